// The page of words and rules.
import { Glossary } from "../features/help/glossary.tsx";

export default function HelpRoom() {
  return <Glossary />;
}
