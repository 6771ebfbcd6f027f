// The page that lies on top of an exported job: what is in it, how it is hashed, how to check it.

export function jobReadme(site: string, madeAt: string, head: string | null): string {
  return `Record of the site "${site}", made ${madeAt} (UTC).

WHAT IT IS
It says whether the limits that a person entered from the data sheets were met by what was measured, or who decided
otherwise. It holds no signature, certifies nothing and is no warranty. The product's own data sheet and safety sheet, the
inspector and the contract stand above it. Gaps, faults and late readings are marked and never filled in.

FILES
job.json                      zones, coats and days of this job
setup.json                    every version of site, zones, nodes and sheets, with the time it came
records/ZONE/coat-N.json      the record of a coat (N counts from 1); -conditions.csv and -calls.csv hold its columns; .pdf
days/DAY.json                 summary of a day by the site's own clock; .pdf
hand-over/ZONE.json           what the client may do and not before when; .pdf
nights/ZONE-N.night.json      all that calls were made from: "npm run --silent replay -- FILE" makes every call again, and
                              they must be those of chain/calls.ndjson made by the same version of the rules
audit.ndjson                  who changed what through the server's door while accounts were on, a line each; not part of the chain
photos/HASH.jpg               pictures; the name is the SHA-256 of the file
chain/journal.ndjson          the journal, an entry a line: {day, prev, hash, body}
chain/calls.ndjson            every call that was shown, a call a line, the same way
chain/readings/DAY.csv        every reading that a day kept: node, quantity, at_ms, value, heard_ms
chain/heads.json              the head of each day

Times are UTC, epoch milliseconds where the name ends in _ms; temperatures degrees Celsius, humidity percent. CSV is
RFC 4180.

THE CHAIN
Canonical form is that of RFC 8785 (JSON with sorted keys and no white space). Hashes are SHA-256, written in lower-case
hexadecimal; texts are hashed as UTF-8. Days are days of UTC. A day keeps what was heard on it, however old it is.
  entry      hash = SHA-256(prev + LF + canonical(body with the key "site")); prev of the first is 64 zeros
  call       hash = SHA-256(prev + LF + canonical(body))
  series     digest = SHA-256 of one line per reading, by time: canonical([node, quantity, at_ms, value, heard_ms]) + LF
  readings   SHA-256(canonical of [[node, quantity, count, digest], ...]) ordered by node and quantity
  head       SHA-256(canonical({site, day, prev, journal, calls, readings, entries, callCount, readingCount})), where prev is
             the head before it, journal and calls the last link kept by the end of the day
A day that is not over stands with "closed": false, as it was when this was made.

HOW TO CHECK IT
npm run verify -- FILE.zip    works offline, says the first link that is broken; --head HASH demands that this head is in it
What a chain cannot show by itself is that its end was cut off: compare the last head with one that was printed or sent.
Last head: ${head ?? "none yet"}
`;
}
