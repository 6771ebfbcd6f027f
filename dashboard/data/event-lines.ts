// Reads server-sent events from text that arrives in arbitrary pieces.

export interface ServerEvent {
  readonly event: string;
  readonly data: string;
  readonly id: string | null;
}

export interface EventReader {
  /** Gives the events completed by this piece. */
  push(piece: string): ServerEvent[];
}

/** Per the HTML standard: lines end with CR, LF or CRLF; an empty line dispatches; a leading colon is a comment. */
export function eventReader(): EventReader {
  let rest = "";
  let event = "";
  let data: string[] = [];
  let id: string | null = null;
  const line = (text: string): ServerEvent | null => {
    if (text === "") {
      const done = data.length === 0 ? null : { event: event === "" ? "message" : event, data: data.join("\n"), id };
      event = "";
      data = [];
      id = null;
      return done;
    }
    const colon = text.indexOf(":");
    const field = colon === -1 ? text : text.slice(0, colon);
    const value = colon === -1 ? "" : text.slice(colon + 1).replace(/^ /, "");
    if (field === "event") event = value;
    else if (field === "data") data.push(value);
    else if (field === "id") id = value;
    return null;
  };
  return {
    push(piece) {
      rest += piece;
      const done: ServerEvent[] = [];
      for (;;) {
        const end = rest.search(/[\r\n]/);
        // A lone CR at the end may be half of a CRLF: wait for the next piece.
        if (end === -1 || (rest[end] === "\r" && end === rest.length - 1)) return done;
        const found = line(rest.slice(0, end));
        rest = rest.slice(end + (rest.startsWith("\r\n", end) ? 2 : 1));
        if (found !== null) done.push(found);
      }
    },
  };
}
