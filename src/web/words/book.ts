/** Words of the build book on the screen. */

export const bookWords = {
  title: 'The build book',
  making: 'Making the book',
  failed: 'The book could not be made',
  pages: (n: number): string => (n === 1 ? '1 page' : `${n} pages`),
  sheets: 'Pages',
  page: (i: number, of: number): string => `Page ${i} of ${of}`,
  what: 'What to print',
  whats: { book: 'The whole book', templates: 'Templates only' },
  paper: 'Paper',
  papers: { A4: 'A4', Letter: 'Letter' },
  bar: 'The bar measures, mm',
  barHow: 'The bar of 100 mm as it comes out on your printer, from 95 to 105: templates are then drawn to suit',
  print: 'Print',
  /** Before anything is drilled. */
  how: 'Print at 100 %, without margins of the browser’s own. Then measure the bar on a template: it must be 100 mm long before anything is drilled.',
  close: 'Close the book',
} as const;
