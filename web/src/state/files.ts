/** Files that are dropped, pasted or chosen. */

/** The first file of a drop or a paste. */
export function dropFile(data: DataTransfer | null): File | null {
  return data?.files[0] ?? null;
}

/** Text of a drop or a paste, from a file or as it is. */
export async function dropText(data: DataTransfer | null): Promise<{ name: string; text: string } | null> {
  const file = dropFile(data);
  if (file) return { name: file.name, text: await file.text() };
  const text = data?.getData("text/plain") ?? "";
  return text.trim() === "" ? null : { name: "pasted.csv", text };
}

/** Has the browser save a copy of the project, as if its link had been pressed. */
export function saveCopy(): void {
  const link = document.createElement("a");
  link.href = "/api/backup";
  link.download = "";
  link.click();
}
