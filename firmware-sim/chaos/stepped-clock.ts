// Loaded into the server before its own code: its wall clock runs from a time that the trial sets, and is stepped by a message.
const wallMs = Date.now.bind(Date);
let offsetMs = Number(process.env["CHAOS_CLOCK_OFFSET_MS"] ?? "0");

Date.now = () => wallMs() + offsetMs;
process.on("message", (message: unknown) => {
  const { offsetMs: wanted } = message as { offsetMs?: unknown };
  if (typeof wanted === "number") offsetMs = wanted;
});
// The line to the trial must not keep a server alive that has been asked to stop.
process.channel?.unref();
