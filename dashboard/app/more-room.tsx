// All pages of a site, each with a line on what it is for, and what is chosen once on this device.
import { mayOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import { moreText, type MoreText } from "../text/more.ts";
import { useVoice } from "../ui/voice.tsx";
import "./more.css";
import { Choices } from "./choices.tsx";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";
import type { RoomProps } from "./site-rooms.ts";

interface Link {
  readonly name: Exclude<keyof MoreText, "title" | "choices">;
  readonly href: string;
  readonly shown: boolean;
}

export default function MoreRoom({ site }: RoomProps) {
  const { session } = useServices();
  const { access } = useSignal(session.signal);
  const { text } = useVoice();
  const words = moreText(text);
  const links: readonly Link[] = [
    { name: "tonight", href: hrefs.page(site, "tonight"), shown: true },
    { name: "alarms", href: hrefs.page(site, "alarms"), shown: true },
    { name: "sensors", href: hrefs.sensors(site), shown: true },
    { name: "material", href: hrefs.page(site, "material"), shown: true },
    { name: "plan", href: hrefs.page(site, "plan"), shown: true },
    { name: "set-up", href: hrefs.page(site, "set-up"), shown: mayOf(access, "plan") },
    { name: "spot-check", href: hrefs.spotCheck(site), shown: true },
    { name: "sheets", href: hrefs.global("sheets"), shown: true },
    { name: "help", href: hrefs.page(site, "help"), shown: true },
    { name: "sites", href: hrefs.sites, shown: true },
    { name: "people", href: hrefs.people, shown: access?.accounts === "on" && mayOf(access, "own") },
  ];
  return (
    <section className="more">
      <h2>{words.title}</h2>
      <ul>
        {links
          .filter(({ shown }) => shown)
          .map(({ name, href }) => (
            <li key={name}>
              <a href={href}>
                <b>{words[name][0]}</b>
                <span>{words[name][1]}</span>
              </a>
            </li>
          ))}
      </ul>
      <h2>{words.choices}</h2>
      <Choices />
    </section>
  );
}
