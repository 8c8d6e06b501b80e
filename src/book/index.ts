export { BOOK_PATHS, type BookOptions, type BuiltFile, buildBook, choosePaths } from './build-book.ts';
export type { Widths } from './faces.ts';
export { FONT_CSS, FONT_FILES, FONT_ROLES, type FontFiles, type FontRole, TABULAR_EMS } from './fonts.ts';
export { BAR_RANGE, layDocument, type PrintedDocument } from './lay-book.ts';
export type { Paged } from './page.ts';
export type { Paper } from './sheet.ts';
export { pageSvg } from './write-svg.ts';
