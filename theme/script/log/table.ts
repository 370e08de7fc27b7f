// Tables in CSV by RFC 4180, and as spreadsheets write them.

// rows writes a table by RFC 4180.
export function rows(table: string[][]): string {
  return table.map((row) => row.map((cell) => (/[",\r\n;\t]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(",") + "\r\n").join("");
}

// separatorOf finds what parts the cells of the first row: a comma, or as
// spreadsheets of some countries write it, a semicolon or a tab.
export function separatorOf(text: string): string {
  const first = /^[^\r\n]*/.exec(text)?.[0] ?? "";
  if (first.includes(",")) return ",";
  return first.includes(";") ? ";" : first.includes("\t") ? "\t" : ",";
}

// split parts a table by RFC 4180. Lines may end in LF alone. open: the last cell
// has a quote that is not closed.
export function split(text: string, separator: string): { table: string[][]; open: boolean } {
  const table: string[][] = [];
  let row: string[] = [];
  let cell = "";
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text[i]!;
    if (quoted) {
      if (c !== '"') cell += c;
      else if (text[i + 1] === '"') {
        cell += '"';
        i++;
      } else quoted = false;
    } else if (c === '"' && cell.trim() === "") {
      cell = "";
      quoted = true;
    } else if (c === separator) {
      row.push(cell);
      cell = "";
    } else if (c === "\n" || c === "\r") {
      if (c === "\r" && text[i + 1] === "\n") i++;
      table.push([...row, cell]);
      row = [];
      cell = "";
    } else cell += c;
  }
  if (cell !== "" || row.length > 0 || quoted) table.push([...row, cell]);
  return { table, open: quoted };
}
