// English texts of signing in, the account and the client's page. Loaded with those pages.
import { enPeople } from "./en-people-access.ts";

export const enAccess = {
  people: enPeople,
  roles: {
    owner: "Owner",
    lead: "Crew lead",
    helper: "Helper",
    inspector: "Inspector",
    client: "Client",
  },
  roleHelps: {
    owner: "Everything, and who else gets in.",
    lead: "Everything on the floor: sites, zones, sensors, sheets, heat, journal.",
    helper: "Sees the boards and writes the journal.",
    inspector: "Sees the boards, the numbers and the records. Writes nothing.",
    client: "Sees when the floor may be walked on, driven on and washed. Nothing else.",
  },
  allSites: "all sites",
  oneZone: (zone: string) => `zone ${zone} only`,
  held: (n: number, writer: string) =>
    n === 1
      ? `1 entry by ${writer} waits on this device. It is sent when ${writer} signs in here.`
      : `${n} entries by ${writer} wait on this device. They are sent when ${writer} signs in here.`,
  heldNobody: (n: number) =>
    n === 1
      ? "1 entry was written here before anybody had to sign in."
      : `${n} entries were written here before anybody had to sign in.`,
  adopt: "They are mine: send",
  putAway: "Put away",
  form: {
    name: "Name",
    password: "Password",
    newPassword: "New password",
    show: "Show",
    hide: "Hide",
    shown: "Show the password",
    needName: "Enter your name.",
    needPassword: "Enter your password.",
    short: (n: number) => `At least ${n} characters. A short sentence works well.`,
    long: (n: number) => `At most ${n} characters.`,
    passwordHelp: (n: number) =>
      `At least ${n} characters; longer is better than tricky. Pasting and password keepers work.`,
    repeated: "One piece again and again: others would try it too.",
    guessed: "Names, common words or rows of keys: others would try it too. Add words of your own.",
    notPassword: "This is not the password until now.",
    failed: "The server does not answer. Try again in a moment.",
    noCookie:
      "This browser did not keep the sign-in. Allow cookies for this address, or use the address that the owner gave you.",
    wait: (s: string) => `Too many tries. Wait ${s}.`,
    barred: "Not for your role. Ask the owner.",
    seconds: (n: number) => (n === 1 ? "1 second" : `${n} seconds`),
    minutes: (n: number) => (n === 1 ? "1 minute" : `${n} minutes`),
  },
  signIn: {
    title: "Sign in",
    ended: "You were signed out by the server. Sign in and you are back where you were.",
    go: "Sign in",
    going: "Signing in …",
    wrong: "Name or password is not right.",
    forgot: "Forgot the password?",
    forgotHelp: [
      "Ask the owner for a new way in, or, at the machine that runs Nightslab, type in its folder:",
      "It prints a code that works once, for a day. Type it here and choose a new password; all your other devices are then signed out.",
    ],
    command: "npm run people -- reset NAME",
    haveCode: "I have a code",
    byLink: "Got a link for a new password, an invitation or a floor? Open it in this browser.",
  },
  first: {
    title: "Make the first owner",
    help: "Nobody can get in yet. The terminal that started the server shows a code that works once. Whoever has it becomes the owner.",
    code: "Code from the terminal",
    needCode: "Enter the code.",
    go: "Become the owner",
    going: "Making the owner …",
    wrong: "This code is not right, or it has been used. The server prints a new one when it starts.",
    known: "There is an owner: sign in",
  },
  invitation: {
    title: "You are invited",
    as: (role: string, sites: string) => `As ${role}, for ${sites}.`,
    until: (when: string) => `The invitation ends ${when}.`,
    nameHelp: "As it shall stand in the journal.",
    go: "Come in",
    going: "Making your account …",
    gone: "This invitation has been used, was taken back, or has ended. Ask the owner for another one.",
    taken: "Somebody here has that name already. Add your family name.",
  },
  reset: {
    title: "New password",
    help: "It works once. All your other devices are signed out.",
    code: "One-time code",
    go: "Take this password",
    going: "Taking it …",
    gone: "This code or link is not right, has been used, or has ended. Ask for another one.",
  },
  link: {
    opening: "Opening the link …",
    gone: "This link was withdrawn or has ended. Ask whoever gave it to you.",
    asWho: "You are signed in here already. Opening the link signs you out on this device.",
    open: "Open it all the same",
    stay: "Stay signed in",
  },
  toSignIn: "Go to the sign-in",
  again: "Try again",
  me: {
    title: "Your account",
    role: "Role",
    sites: "Sites",
    signOut: "Sign out",
    signingOut: "Signing out …",
    unsent: (n: number) =>
      n === 1
        ? "1 entry is not sent yet. It stays on this device until you sign in here again."
        : `${n} entries are not sent yet. They stay on this device until you sign in here again.`,
    people: "People, links and devices",
    password: "Change the password",
    current: "Password until now",
    change: "Change it",
    changing: "Changing …",
    changed: "Changed. Your other devices are signed out.",
    linkHelp: "You came in by a link. It shows, and lets nobody write.",
  },
  client: {
    title: "Your floor",
    intro: "When the new floor may be used, as things stand. Cold weather can move the days to later ones.",
    walk: "Walk on it",
    drive: "Vehicles",
    wash: "Wash it",
    notBefore: (when: string) => `not before ${when}`,
    since: (when: string) => `since ${when}`,
    ask: "ask the crew",
    bare: "No coat lies yet.",
    moreCoats: "More coats are to come. Days can be told when the last one lies.",
    estimated: "Some days are an estimate of ours; the product's own sheet rules.",
    leave: "Please",
    leaves: {
      "keep-off": "Stay off the floor, pets and carts too.",
      "no-vehicles": "No vehicles, pallets or ladders on it.",
      "no-water": "No water on it, no wet shoes.",
      "keep-warm": "Leave the heat as it is.",
      "keep-shut": "Leave doors and windows as they are.",
      "leave-sensors": "Leave the small devices and their wires where they are.",
    },
    wet: "A new floor can be slippery when wet. The product's safety sheet and the crew's word come first.",
    asOf: (when: string) => `As of ${when}.`,
    old: (when: string) => `The server does not answer; this is as of ${when}.`,
    none: "No floor is shown here yet.",
  },
};

export type AccessText = typeof enAccess;
