export { contrastRatio, PAINTS, TAPES } from './colours.ts';
export { drawStrip } from './draw-strip.ts';
export { layFace } from './lay-face.ts';
export { guidePath, pathText } from './path.ts';
export { TILE_OVERLAP, type Tile, type TileOptions, tileFace } from './tiles.ts';
export type * from './types.ts';
