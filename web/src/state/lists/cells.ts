/** What can be done while the cells of a field are edited. Pure, like the list for everywhere. */
import type { Key } from "../../i18n";
import type { Action } from "../../kernels/actions";
import type { CellEditor, Tool } from "../cells.svelte";

/** What the list needs of the editor and its view. */
export interface CellDoes {
  editor: Pick<
    CellEditor,
    | "use" | "act" | "pen" | "stop" | "go" | "nextPaint" | "nextWidth" | "nextSymmetry" | "turn" | "flip" | "copy" | "chooseAll" | "chooseByHand" | "invert"
    | "set" | "matchAgain" | "paint" | "nextJoining"
  >;
  zoom: (factor: number) => void;
  fit: () => void;
  now: () => { tool: Tool; chosen: boolean; patch: boolean; picture: boolean; running: boolean };
}

const TOOLS: readonly [Tool, Key, string][] = [
  ["brush", "celltool.brush", "B"],
  ["line", "celltool.line", "L"],
  ["rectangle", "celltool.rectangle", "R"],
  ["fill", "cells.fill", "G"],
  ["replace", "celltool.replace", "C"],
  ["stamp", "celltool.stamp", "S"],
  ["pick", "celltool.pick", "P"],
  ["hand", "celltool.hand", "D"],
  ["box", "celltool.box", "X"],
  ["lasso", "celltool.lasso", "O"],
  ["same", "celltool.same", "U"],
];

const WAYS: readonly [string, Key, Key, string, readonly [number, number]][] = [
  ["left", "cells.left", "cells.left.far", "ArrowLeft", [-1, 0]],
  ["right", "cells.right", "cells.right.far", "ArrowRight", [1, 0]],
  ["up", "cells.up", "cells.up.far", "ArrowUp", [0, -1]],
  ["down", "cells.down", "cells.down.far", "ArrowDown", [0, 1]],
];

const CLOSER = 1.5;

export function cellActions({ editor, zoom, fit, now }: CellDoes): Action[] {
  const some = (): true | Key => (now().chosen ? true : "cells.none");
  const patch = (): true | Key => (now().patch ? true : "cells.nopatch");
  const again = (): true | Key => (!now().chosen ? "cells.none" : now().running ? "not.running" : now().picture ? true : "match.nopicture");
  const one = (id: string, words: Key, keys: readonly string[], run: () => void, more: Partial<Action> = {}): Action => ({
    id: `cells.${id}`, group: "picture", words, keys, lives: "lives.cells", run, ...more,
  });
  return [
    ...TOOLS.map(([tool, words, key]) => one(tool, words, [key], () => editor.use(tool), { also: "do.tool.also" })),
    ...WAYS.map(([id, words, , key, by]) => one(id, words, [key], () => editor.go(by), { repeats: true })),
    ...WAYS.map(([id, , words, key, by]) => one(`${id}.far`, words, [`Shift+${key}`], () => editor.go([by[0] * 10, by[1] * 10]), { repeats: true })),
    one("act", "cells.act", ["Enter"], () => void editor.act()),
    one("pen", "cells.pen", ["Space"], () => void editor.pen()),
    one("stop", "cells.stop", ["Escape"], () => editor.stop()),
    one("colour.next", "cells.colour.next", ["."], () => editor.nextPaint(1), { repeats: true }),
    one("colour.before", "cells.colour.before", [","], () => editor.nextPaint(-1), { repeats: true }),
    one("wider", "cells.wider", ["W"], () => editor.nextWidth(1)),
    one("narrower", "cells.narrower", ["N"], () => editor.nextWidth(-1)),
    one("symmetry", "cells.symmetry.next", ["Y"], () => editor.nextSymmetry()),
    one("joining", "cells.joining.next", ["J"], () => editor.nextJoining()),
    one("closer", "plan.closer", ["+"], () => zoom(CLOSER), { repeats: true }),
    one("farther", "plan.farther", ["-"], () => zoom(1 / CLOSER), { repeats: true }),
    one("fit", "cells.fit", ["F", "Home"], fit),
    one("all", "cells.all", ["Mod+A"], () => editor.chooseAll()),
    one("hand.choose", "cells.byhand", ["H"], () => editor.chooseByHand()),
    one("invert", "cells.invert", ["I"], () => editor.invert(), { when: some }),
    one("again", "cells.again", ["A"], () => void editor.matchAgain(), { when: again, also: "do.match.also" }),
    one("set", "cells.set", ["V"], () => void editor.set(editor.paint)),
    one("clear", "cells.clear", ["Delete", "Backspace"], () => void editor.set(0)),
    one("release", "cells.release", ["E"], () => void editor.set(null)),
    one("copy", "cells.copy", ["Mod+C"], () => editor.copy(), { when: some }),
    one("turn", "cells.turn", ["T"], () => editor.turn(), { when: patch }),
    one("flip", "cells.flip", ["M"], () => editor.flip(), { when: patch }),
  ];
}
