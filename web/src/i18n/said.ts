/** What the engine says, in the words of a language: it sends the key of a saying and its figures. */
import type { GivenArg } from "../api/generated/GivenArg";
import type { GivenUnit } from "../api/generated/GivenUnit";
import type { SaidArg } from "../api/generated/SaidArg";
import type { SaidRow } from "../api/generated/SaidRow";
import { brief, IN_WORDS } from "../kernels/brief";
import { figure, GAP, percent } from "../kernels/numbers";
import { exact, trimmed, way, type System } from "../kernels/units";
import { fill, WORDS, type Language } from "./index";

/** A language and the units of its reader. */
export interface Reader {
  language: Language;
  system: System;
}

/** The words of a saying; null when this page does not know its key, as after an update of the server. */
export function said(row: SaidRow, reader: Reader): string | null {
  const words: Record<string, string | undefined> = WORDS[reader.language];
  const n = row.args["n"];
  const one = n !== undefined && "count" in n && n.count === 1;
  const text = words[row.key] ?? words[`${row.key}.${one ? "one" : "many"}`];
  if (text === undefined) return null;
  const values: Record<string, string> = {};
  for (const [name, value] of Object.entries(row.args)) {
    const told = value === undefined ? null : (name === "port" || OF_PORTS.has(row.key)) && "text" in value ? port(value.text, reader.language) : arg(value, reader);
    if (told === null) return null;
    values[name] = told;
  }
  return fill(text, values);
}

/** Whole sentences one after another; null when one of them is not known. */
export function sentences(rows: readonly SaidRow[], reader: Reader): string | null {
  return joined(rows.map((row) => said(row, reader)), " ");
}

/** Sayings that are nothing but the name of a port. */
const OF_PORTS = new Set(["found.quoted", "gate.port-own"]);
/** Ports that items have of themselves, by the names that the plan gives them. What somebody named is left as it is. */
const PORTS: Record<Language, Record<string, string>> = {
  en: {},
  de: { entry: "Eingang", start: "Anfang", "start left": "Anfang links", "start right": "Anfang rechts", end: "Ende", "end left": "Ende links", "end right": "Ende rechts" },
};

/** The name of a port in a language. */
export function port(name: string, language: Language): string {
  const lane = language === "de" ? /^lane (\d+)( end)?$/.exec(name) : null;
  if (lane) return `Bahn ${lane[1]}${lane[2] ? ", Ende" : ""}`;
  return PORTS[language][name] ?? name;
}

function arg(value: SaidArg, reader: Reader): string | null {
  const { language, system } = reader;
  if ("text" in value) return brief(value.text, IN_WORDS);
  if ("count" in value) return figure(value.count, language);
  if ("length" in value) return exact(value.length, system, language);
  if ("way" in value) return way(value.way, system, language);
  if ("degrees" in value) return `${trimmed(value.degrees, 1, language)}°`;
  if ("per-mille" in value) return percent(value["per-mille"] / 1000, language, 1);
  if ("given" in value) return given(value.given, reader);
  if ("said" in value) return said(value.said, reader);
  if ("lines" in value) return joined(value.lines.map((row) => said(row, reader)), "\n");
  if ("sentences" in value) return sentences(value.sentences, reader);
  return joined(value.list.map((one) => arg(one, reader)), ", ");
}

const UNITS: Record<GivenUnit, string> = { none: "", mm: `${GAP}mm`, degrees: "°", seconds: `${GAP}s`, hours: `${GAP}h`, grams: `${GAP}g` };

/** A figure as it was given: no decimal of it is left out, since it may be what is wrong; but for lengths in feet and inches. */
function given({ value, unit, bare }: GivenArg, { language, system }: Reader): string {
  if (unit === "mm" && system === "imperial") return exact(value, system, language);
  return trimmed(value, 6, language) + (bare ? "" : UNITS[unit]);
}

function joined(parts: (string | null)[], by: string): string | null {
  return parts.some((p) => p === null) ? null : parts.join(by);
}
