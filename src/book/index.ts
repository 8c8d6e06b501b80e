export { BAR_RANGE, BOOK_PATHS, type BookOptions, type BuiltFile, buildBook, choosePaths } from './build-book.ts';
export { FONT_FILES, FONT_ROLES, type FontFiles } from './fonts.ts';
