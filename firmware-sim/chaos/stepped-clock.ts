// Loaded into the server before its own code: its wall clock runs from a time that the trial sets, and is stepped by a message.

/** Plain JavaScript, since a built server has nothing that reads anything else. */
const CODE = `
const wallMs = Date.now.bind(Date);
let offsetMs = Number(process.env.CHAOS_CLOCK_OFFSET_MS ?? "0");
Date.now = () => wallMs() + offsetMs;
process.on("message", (message) => {
  if (typeof message?.offsetMs === "number") offsetMs = message.offsetMs;
});
// The line to the trial must not keep a server alive that has been asked to stop.
process.channel?.unref();
`;

export const STEPPED_CLOCK = `data:text/javascript,${encodeURIComponent(CODE)}`;
