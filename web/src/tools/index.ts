/** All tools, in the order of the comb. */
import { arc } from "./arc";
import { camera } from "./camera";
import { dimension } from "./dimension";
import { feed } from "./feed";
import { field } from "./field";
import { fill } from "./fill";
import { freehand } from "./freehand";
import { gap } from "./gap";
import { hallTool } from "./hall";
import { letters } from "./letters";
import { line } from "./line";
import { note } from "./note";
import { pick } from "./pick";
import { placeholder } from "./placeholder";
import { spiral } from "./spiral";
import { start } from "./start";
import { stopper } from "./stopper";
import { surface } from "./surface";
import type { Tool } from "./tool";

export { pick };
// Each tool alone knows its state; the board only hands it back.
export const TOOLS: readonly Tool[] = [
  pick, hallTool, surface, line, arc, spiral, freehand, fill, letters, field, placeholder, feed, start, stopper, gap, dimension, note, camera,
] as unknown as readonly Tool[];
