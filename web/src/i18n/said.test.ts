import { describe, expect, it } from "vitest";
import type { SaidArg } from "../api/generated/SaidArg";
import { said, sentences, type Reader } from "./said";

const plain = (text: string | null) => text?.replace(/[\u202f\u00a0]/g, " ");
const row = (key: string, args: Record<string, SaidArg> = {}) => ({ key, args });
const EN: Reader = { language: "en", system: "metric" };
const DE: Reader = { language: "de", system: "metric" };
const FEET: Reader = { language: "en", system: "imperial" };
const ZOLL: Reader = { language: "de", system: "imperial" };

describe("what the engine says", () => {
  const far = row("found.unfed.far", { item: { text: "Mill" }, clear: { length: 62.5 }, line: { text: "River" }, reach: { length: 48 } });
  it("is said in the language and the units of the reader", () => {
    expect(plain(said(far, EN))).toBe("The wave cannot enter Mill: its nearest piece ahead is 62.5 mm away from the end of River; a falling piece reaches 48 mm.");
    expect(plain(said(far, DE))).toBe("Die Welle kann nicht in Mill hinein: Der nächste Stein davor ist 62,5 mm vom Ende von River entfernt; ein fallender Stein reicht 48 mm weit.");
    // 62.5 / 25.4 = 2.46…, 48 / 25.4 = 1.89…
    expect(plain(said(far, FEET))).toBe("The wave cannot enter Mill: its nearest piece ahead is 2.46 in away from the end of River; a falling piece reaches 1.89 in.");
    expect(plain(said(far, ZOLL))).toContain("2,46 in vom Ende von River");
  });
  it("takes the words for one or for many by the count", () => {
    const pieces = (n: number) => row("found.unfed", { item: { text: "Mill" }, n: { count: n } });
    expect(plain(said(pieces(1), DE))).toBe("Die Welle kommt nicht in Mill hinein: 1 Stein bleibt stehen.");
    expect(plain(said(pieces(1240), DE))).toBe("Die Welle kommt nicht in Mill hinein: 1 240 Steine bleiben stehen.");
    expect(plain(said(pieces(1), EN))).toBe("The wave does not enter Mill: 1 piece stands.");
  });
  it("puts sayings, lists and sentences into one another", () => {
    const by = (item: string, n: number): SaidArg => ({ said: row("found.short.by", { item: { text: item }, count: { count: n } }) });
    const short = row("found.short", { colour: { text: "Himmel" }, short: { count: 640 }, wanted: { count: 7390 }, who: { list: [by("Dom", 7380), by("Mühle", 10)] }, owned: { count: 6750 } });
    expect(plain(said(short, DE))).toBe("Himmel: 640 zu wenig. Der Plan braucht 7 390 (Dom 7 380, Mühle 10), vorhanden sind 6 750.");
    const why: SaidArg = { sentences: [row("feeding.nothing"), row("feeding.falls.not", { n: { count: 1 }, lanes: { count: 4 } })] };
    expect(plain(said(row("found.unlaid", { item: { text: "Zulauf" }, why }), DE))).toBe(
      "Zulauf hat keinen Stein. Nichts Ähnliches wurde gemessen; zuerst mit fünf Bahnen ausprobieren. Von 4 hier versuchten Bahnen bleibt 1 stehen.",
    );
  });
  it("calls the ports that items have of themselves by the reader's names, and what somebody named as it is", () => {
    const lost = (port: string) => row("found.link.port.to", { item: { text: "Fluss" }, port: { text: port }, other: { text: "Mühle" } });
    expect(plain(said(lost("entry"), DE))).toContain("„Eingang“");
    expect(plain(said(lost("lane 3 end"), DE))).toContain("„Bahn 3, Ende“");
    expect(plain(said(lost("Tor"), DE))).toContain("„Tor“");
    expect(plain(said(lost("entry"), EN))).toContain('"entry"');
    const choose = row("found.link.port.choose", { ports: { list: [{ said: row("found.quoted", { name: { text: "end left" } }) }] } });
    expect(plain(said(choose, DE))).toBe("Einen der Anschlüsse wählen: „Ende links“.");
  });
  it("writes shares, angles and long ways as the language does", () => {
    const assumed = row("found.assumed", { pieces: { count: 2 }, all: { count: 6 }, share: { "per-mille": 333 } });
    expect(plain(said(assumed, DE))).toBe("2 von 6 Steinen, 33,3 %, sind nur angenommen: Platzhalter verlangen sie.");
    const uphill = row("found.uphill", { item: { text: "Anstoß" }, slope: { degrees: 7.26 } });
    expect(plain(said(uphill, DE))).toContain("eine Neigung von 7,3° hinauf");
    const cut = row("found.cut-short", { item: { text: "Fluss" }, laid: { way: 60e6 }, length: { way: 75e6 }, most: { count: 4e6 } });
    expect(plain(said(cut, DE))).toContain("endet 60 000 m nach dem Anfang, obwohl der Weg 75 000 m lang ist");
    // One foot is 304.8 mm exactly (international yard and pound agreement, 1959).
    expect(plain(said(cut, FEET))).toContain("ends 196 850 ft after");
  });
  it("keeps what a tenth of a millimetre tells", () => {
    const tape = (mm: number) => row("found.tape.suspect", { from: { text: "A" }, to: { text: "B" }, length: { length: mm }, apart: { length: 0.5 } });
    expect(plain(said(tape(12345.6), DE))).toContain("sagt 12 345,6 mm; nach allen anderen sind es 0,5 mm");
    expect(plain(said(tape(12345.6), FEET))).toContain("says 40 ft 6 in; with all the others they are 0.02 in apart");
  });
  it("says refusals with figures as they were given, in the reader's words and units", () => {
    const given = (value: number, bare = false): SaidArg => ({ given: { value, unit: "mm", bare } });
    const refused = row("gate.refused", {
      place: { list: [{ said: row("found.at.field", { name: { text: "Mill" } }) }, { said: row("gate.at.pitch.along") }] },
      value: given(-5),
      problem: { said: row("gate.range", { least: given(0.5, true), most: given(20_000) }) },
      next: { said: row("gate.range.next") },
    });
    expect(plain(said(refused, EN))).toBe("field Mill, pitch along the fall: −5 mm is not from 0.5 to 20 000 mm. Give a value in that range.");
    expect(plain(said(refused, DE))).toBe("Feld Mill, Abstand längs: −5 mm liegt nicht im Bereich von 0,5 bis 20 000 mm. Einen Wert in diesem Bereich angeben.");
    // 5 / 25.4 = 0.196…, 0.5 / 25.4 = 0.0196…; 20 000 / 304.8 = 65.6… ft.
    expect(plain(said(refused, FEET))).toBe("field Mill, pitch along the fall: −0.197 in is not from 0.02 in to 65 ft 7.4 in. Give a value in that range.");
    const figures: SaidArg[] = [0.0375, 12.5, 90, 3, 1.5].map((value, i) => ({ given: { value, unit: (["none", "grams", "degrees", "seconds", "hours"] as const)[i]!, bare: false } }));
    const crop = row("gate.n.span", { least: { list: figures }, most: given(1e7) });
    expect(plain(said(crop, DE))).toBe("0,0375, 12,5 g, 90°, 3 s, 1,5 h bis 10 000 000 mm");
  });
  it("names steps and puts lines below one another", () => {
    const step = row("doing.with", { what: { said: row("doing.fill", { n: { count: 1200 }, name: { text: "Sea" } }) }, colour: { text: "Sand" } });
    expect(plain(said(step, DE))).toBe("1 200 Zellen von Sea füllen, mit Sand");
    const line = (n: string, count: string) =>
      row("refusing.list.at", { file: { text: "a.csv" }, line: { text: n }, value: { said: row("gate.quoted", { text: { text: count } }) }, problem: { said: row("refusing.list.no-count") }, next: { said: row("refusing.list.no-count.next") } });
    const both = row("refusing.list.lines", { lines: { lines: [line("2", "-1"), line("7", "x"), row("refusing.list.all")] } });
    expect(plain(said(both, DE))).toBe(
      "a.csv, Zeile 2: „-1“ ist keine Anzahl. 0 oder mehr eintragen und die Datei noch einmal ablegen.\n" +
        "a.csv, Zeile 7: „x“ ist keine Anzahl. 0 oder mehr eintragen und die Datei noch einmal ablegen.\nNichts wurde geändert.",
    );
  });
  it("gives up on words that this page does not have", () => {
    expect(said(row("found.of-tomorrow"), EN)).toBeNull();
    expect(said(row("found.unlaid", { item: { text: "Mill" }, why: { sentences: [row("feeding.of-tomorrow")] } }), EN)).toBeNull();
    expect(sentences([row("feeding.nothing"), row("feeding.of-tomorrow")], EN)).toBeNull();
  });
});
