// Times of readings. They are written as ISO 8601 with the offset of the place
// where they were read, and shown by the clock of that place.
import { international, type Order } from "./dates";

const two = (n: number): string => String(n).padStart(2, "0");

// iso writes a moment with the offset that this device has then.
export function iso(moment: Date): string {
  const minutes = -moment.getTimezoneOffset();
  const offset = `${minutes < 0 ? "-" : "+"}${two(Math.floor(Math.abs(minutes) / 60))}:${two(Math.abs(minutes) % 60)}`;
  return `${field(moment)}:${two(moment.getSeconds())}${offset}`;
}

// field writes a moment as a field for date and time holds it.
export function field(moment: Date): string {
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}T${two(moment.getHours())}:${two(moment.getMinutes())}`;
}

export interface Moment {
  at: string; // "" if the text is no moment
  assumed: boolean; // the text states no offset; this device's was taken
  to: Fineness;
}

// Fineness is to what a file states its times: 10, 16 or 19 letters of ISO 8601.
export type Fineness = 10 | 16 | 19;

// read takes what files hold: ISO 8601 to the minute or second, with an offset or
// Z, or without both; a date as spreadsheets write it, in the order of its column; or a
// day, which is taken at noon.
export function read(written: string, order?: Order): Moment {
  const none: Moment = { at: "", assumed: false, to: 19 };
  const text = international(written, order) || written;
  const m = /^(\d{4}-\d\d-\d\d)(?:[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,]\d+)?)?)?\s*(Z|[+-]\d\d(?::?\d\d)?)?$/i.exec(text.trim());
  if (!m) return none;
  const [, day = "", hour = "12", minute = "00", second = "00", zone = ""] = m;
  const to = m[2] === undefined ? 10 : m[4] === undefined ? 16 : 19;
  const local = `${day}T${hour}:${minute}:${second}`;
  const moment = new Date(local);
  if (Number.isNaN(moment.getTime()) || moment.getDate() !== Number(day.slice(8))) return none; // 30 February
  if (zone === "") return { at: iso(moment), assumed: true, to };
  const offset = /^z$/i.test(zone) ? "+00:00" : `${zone.slice(0, 3)}:${zone.length > 3 ? zone.slice(-2) : "00"}`;
  const at = local + offset;
  return Number.isNaN(Date.parse(at)) ? none : { at, assumed: false, to };
}

// local is the moment of a reading as the clock there had it, for show.
function local(at: string): Date {
  return new Date(at.slice(0, 16));
}

export function date(at: string): string {
  return local(at).toLocaleDateString(document.documentElement.lang, { day: "numeric", month: "short", year: "numeric" });
}

export function time(at: string): string {
  return `${date(at)}, ${at.slice(11, 16)}`;
}
