/** All tools, in the order of the comb. */
import { field } from "./field";
import { line } from "./line";
import { pick } from "./pick";
import type { Tool } from "./tool";

export { pick };
// Each tool alone knows its state; the board only hands it back.
export const TOOLS: readonly Tool[] = [pick, line, field] as unknown as readonly Tool[];
