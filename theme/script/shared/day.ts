// Days and times by the clock of the reader's device.

export const two = (n: number): string => String(n).padStart(2, "0");

// local writes a moment as a field for date and time holds it: "2025-07-12T07:05".
export function local(moment: Date): string {
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}T${two(moment.getHours())}:${two(moment.getMinutes())}`;
}

// today is the reader's day, not Greenwich's.
export const today = (): string => local(new Date()).slice(0, 10);

// language is that of the handbook; of tests without a page, English.
const language = (): string => globalThis.document?.documentElement.lang ?? "en-GB";

// spoken says a day, "2025-07-12", as the handbook's language does.
export function spoken(day: string, month: "long" | "short"): string {
  return new Date(`${day}T12:00`).toLocaleDateString(language(), { day: "numeric", month, year: "numeric" });
}
