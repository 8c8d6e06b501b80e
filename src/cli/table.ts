/**
 * Rows as aligned columns, two spaces apart; nothing trails the last. Columns named in `right` align to the right.
 * Widths count characters, which is right for the letters that panels are named in.
 */
export function table(rows: readonly (readonly string[])[], right: readonly number[] = []): string {
  const widths: number[] = [];
  for (const row of rows) {
    row.forEach((cell, column) => {
      widths[column] = Math.max(widths[column] ?? 0, [...cell].length);
    });
  }
  return rows
    .map((row) =>
      row
        .map((cell, column) => {
          const pad = ' '.repeat((widths[column] ?? 0) - [...cell].length);
          return right.includes(column) ? pad + cell : cell + pad;
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
