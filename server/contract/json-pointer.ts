// JSON Pointer (RFC 6901): where in a body a value stands.
import Type from "typebox";

/** `""` is the whole body; `~1` stands for `/` and `~0` for `~` inside a name. */
export const Pointer = Type.String({
  pattern: "^(/([^~/]|~[01])*)*$",
  maxLength: 500,
  description: "JSON Pointer (RFC 6901)",
});

const INDEX = /^(0|[1-9][0-9]*)$/;

/** The value at the pointer; undefined when nothing stands there or the pointer is none. Inherited names are nothing. */
export function valueAt(body: unknown, pointer: string): unknown {
  if (pointer === "") return body;
  if (!pointer.startsWith("/")) return undefined;
  let value = body;
  for (const token of pointer.slice(1).split("/")) {
    const name = token.replaceAll("~1", "/").replaceAll("~0", "~");
    if (Array.isArray(value)) value = INDEX.test(name) ? (value as unknown[])[Number(name)] : undefined;
    else if (typeof value === "object" && value !== null && Object.hasOwn(value, name))
      value = (value as Record<string, unknown>)[name];
    else return undefined;
  }
  return value;
}
