/** What the book uses of fontkit, which ships without types. */
declare module 'fontkit' {
  export interface GlyphRun {
    readonly advanceWidth: number;
  }
  export interface Font {
    readonly unitsPerEm: number;
    readonly postscriptName: string;
    hasGlyphForCodePoint(codePoint: number): boolean;
    layout(text: string, features?: readonly string[]): GlyphRun;
  }
  export function create(bytes: Uint8Array): Font;
}
