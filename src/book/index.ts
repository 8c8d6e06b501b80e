export { BOOK_PATHS, type BookOptions, type BookPath, type BuiltFile, buildBook, choosePaths } from './build-book.ts';
export { FONT_FILES, FONT_ROLES, type FontFiles, type FontRole } from './fonts.ts';
export type { Paper } from './sheet.ts';
export { cutTiles, OVERLAP, TILE, type Tile, type Tiling } from './tiles.ts';
