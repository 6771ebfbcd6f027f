// English texts of the page over all sites. Loaded with the page.

export const enOffice = {
  title: "All sites",
  lead: "What each site's own server last said. The worst first.",
  none: "No site has been heard yet. Each site's server must publish through the broker that this office hears.",
  counts: (sites: number, zones: number) =>
    `${sites === 1 ? "1 site" : `${sites} sites`}, ${zones === 1 ? "1 zone" : `${zones} zones`}`,
  show: "Show",
  all: "All",
  unknown: "Not known",
  nothing: "No zone stands so now.",
  away: "This office does not answer. Everything here is old.",
  deaf: "This office hears no site now: its broker is away. What is shown grows old.",
  heard: (age: string) => `heard ${age} ago`,
  silent: (age: string) => `Silent for ${age}. What it last said does not stand any more.`,
  never: "It has not said that its server runs. Its calls may be old.",
  localTime: (at: string) => `${at} there`,
  open: (name: string) => `Open ${name}`,
  saidAt: (at: string) => `said ${at}`,
  until: (at: string) => `stands until ${at}`,
  noCall: "No call was heard.",
  unread: "Its call cannot be read: its server may be of another version. Ask the site.",
  behind: "The site has said something else since. Ask the site.",
  alarms: "Alarms",
  alarmsNone: "No site has told of an alarm that still stands.",
  alarmCount: (n: number) => (n === 1 ? "1 alarm" : `${n} alarms`),
  alarmsMore: (n: number) => `${n} more at the site itself.`,
  answered: "answered",
};

export type OfficeText = typeof enOffice;
