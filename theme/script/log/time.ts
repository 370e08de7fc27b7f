// Times of readings. They are written as ISO 8601 with the offset of the place
// where they were read, and shown by the clock of that place.
import { local, spoken, two } from "../shared/day";
import { international, type Order } from "./dates";

// iso writes a moment with the offset that this device has then.
export function iso(moment: Date): string {
  const minutes = -moment.getTimezoneOffset();
  const offset = `${minutes < 0 ? "-" : "+"}${two(Math.floor(Math.abs(minutes) / 60))}:${two(Math.abs(minutes) % 60)}`;
  return `${local(moment)}:${two(moment.getSeconds())}${offset}`;
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
  const there = `${day}T${hour}:${minute}:${second}`;
  const moment = new Date(there);
  if (Number.isNaN(moment.getTime()) || moment.getDate() !== Number(day.slice(8))) return none; // 30 February
  if (zone === "") return { at: iso(moment), assumed: true, to };
  const offset = /^z$/i.test(zone) ? "+00:00" : `${zone.slice(0, 3)}:${zone.length > 3 ? zone.slice(-2) : "00"}`;
  const at = there + offset;
  return Number.isNaN(Date.parse(at)) ? none : { at, assumed: false, to };
}

export const date = (at: string): string => spoken(at.slice(0, 10), "short");

export const time = (at: string): string => `${date(at)}, ${at.slice(11, 16)}`;
