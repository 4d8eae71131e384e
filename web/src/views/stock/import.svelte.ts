/** Takes a stock list; keeps the server's reasons when it is refused, for the view of the stock. */
import { doChange, Refusal } from "../../api/client";
import { plan } from "../../state/plan.svelte";
import { router } from "../../state/router.svelte";
import { t, why } from "../../state/say.svelte";
import { toasts } from "../../state/toasts.svelte";

class StockList {
  refusal = $state<string | null>(null);

  async take(file: string, text: string) {
    try {
      await doChange({ do: "stock-list", file, text, gear: [] });
      await plan.refresh();
      toasts.plain("stock.taken", { file }, true);
      this.refusal = null;
    } catch (error) {
      this.refusal = error instanceof Refusal ? why(error) : t("offline");
    }
  }

  /** A list that was dropped elsewhere goes where lists are taken. */
  async bring(file: File) {
    router.go("/stock");
    await this.take(file.name, await file.text());
  }
}

export const stockList = new StockList();
