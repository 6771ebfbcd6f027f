// Words of the page behind a link in a message, in both languages.

export interface ReplyWords {
  readonly button: string;
  readonly ask: string;
  readonly done: (by: string | null) => string;
  readonly look: string;
  readonly expired: string;
  readonly home: string;
}

export const REPLY_WORDS: Readonly<Record<"en" | "es", ReplyWords>> = {
  en: {
    button: "I have it",
    ask: "Press it if you look after this. Then nobody else is woken for it.",
    done: (by) => (by === null ? "Nobody needs to answer it any more." : `${by} has it. Nobody else is woken for it.`),
    look: "Look at it in Nightslab",
    expired: "This link was used already or is older than twelve hours. What stands now is in Nightslab.",
    home: "Open Nightslab",
  },
  es: {
    button: "Me ocupo yo",
    ask: "Púlselo si usted se ocupa. Así no se despierta a nadie más por esto.",
    done: (by) =>
      by === null ? "Ya no hace falta que nadie conteste." : `${by} se ocupa. No se despierta a nadie más por esto.`,
    look: "Verlo en Nightslab",
    expired: "Este enlace ya se usó o tiene más de doce horas. Lo que hay ahora está en Nightslab.",
    home: "Abrir Nightslab",
  },
};
