/** Takes a stock list; gives the server's reasons when it is refused. */
import { doChange, Refusal } from "../../api/client";
import { plan } from "../../state/plan.svelte";
import { t, why } from "../../state/say.svelte";
import { toasts } from "../../state/toasts.svelte";

export async function takeStockList(file: string, text: string): Promise<string | null> {
  try {
    await doChange({ do: "stock-list", file, text, gear: [] });
    await plan.refresh();
    toasts.plain("stock.taken", { file }, true);
    return null;
  } catch (error) {
    return error instanceof Refusal ? why(error) : t("offline");
  }
}
