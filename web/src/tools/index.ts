/** All tools, in the order of the comb. */
import { arc } from "./arc";
import { field } from "./field";
import { fill } from "./fill";
import { freehand } from "./freehand";
import { letters } from "./letters";
import { line } from "./line";
import { pick } from "./pick";
import { spiral } from "./spiral";
import type { Tool } from "./tool";

export { pick };
// Each tool alone knows its state; the board only hands it back.
export const TOOLS: readonly Tool[] = [pick, line, arc, spiral, freehand, fill, letters, field] as unknown as readonly Tool[];
