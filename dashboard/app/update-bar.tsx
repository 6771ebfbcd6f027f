// Offers a newer version of the page; whoever is typing finishes first.
import { alarmsText } from "../text/alarms.ts";
import { useVoice } from "../ui/voice.tsx";

export default function UpdateBar({ onUse }: { readonly onUse: () => void }) {
  const words = alarmsText(useVoice().text);
  return (
    <div className="held" role="status">
      <p>{words.newVersion}</p>
      <button type="button" className="button" onClick={onUse}>
        {words.useVersion}
      </button>
    </div>
  );
}
