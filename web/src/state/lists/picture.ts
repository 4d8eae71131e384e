/** What can be done while a picture is open. Pure, like the list for everywhere. */
import type { Key } from "../../i18n";
import type { Action } from "../../kernels/actions";

/** What the list needs of the view. */
export interface PictureDoes {
  match: () => void;
  matchAll: () => void;
  edit: () => void;
  add: () => void;
  crop: () => void;
  now: () => { canWrite: boolean; picture: boolean; pictures: number; running: boolean };
}

export function pictureActions(does: PictureDoes): Action[] {
  const writes = (): true | Key => (does.now().canWrite ? true : "not.written");
  const matches = (there: boolean): true | Key => (does.now().running ? "not.running" : there ? true : "match.nopicture");
  return [
    { id: "field.add", group: "picture", words: "field.add", when: writes, run: does.add },
    { id: "match", group: "picture", words: "match", also: "do.match.also", lives: "lives.side", when: () => matches(does.now().picture), run: does.match },
    { id: "match.all", group: "picture", words: "match.all", also: "do.match.also", lives: "lives.side", when: () => matches(does.now().pictures > 1), run: does.matchAll },
    { id: "cells.edit", group: "picture", words: "paint.begin", also: "do.cells.also", lives: "lives.stage", when: writes, run: does.edit },
    { id: "picture.crop", group: "picture", words: "crop", lives: "lives.stage", when: () => (writes() !== true ? writes() : does.now().picture ? true : "match.nopicture"), run: does.crop },
  ];
}
