/**
 * What the command line cannot use, in one line that says where and how to mend it: the exit status is 2.
 * Control characters become spaces and the text is cut at 400 characters, so that a hostile file cannot write to the terminal.
 */
export class Refusal extends Error {
  constructor(message: string) {
    super(oneLine(message));
    this.name = 'Refusal';
  }
}

/** Longest message: a path, an id and a sentence fit in it. */
const LONGEST = 400;

/** Text as one printable line. */
function oneLine(text: string): string {
  const line = text.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, ' ').trim();
  return line.length <= LONGEST ? line : `${line.slice(0, LONGEST - 3)}...`;
}
