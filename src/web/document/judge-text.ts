/** The text of a file that someone brings: a panel, or one clear sentence why there is none. */
import { type FileProblem, FORMAT, type PanelFile, problemLine, readPanel, VERSION } from '../../panel/index.ts';
import { documentWords } from '../words/document.ts';
import { LARGEST_BYTES } from './constants.ts';

export type Unusable = 'empty' | 'too-large' | 'not-json' | 'not-ours' | 'newer' | 'damaged';

export type Judged =
  | { readonly ok: true; readonly panel: PanelFile }
  | {
      readonly ok: false;
      readonly why: Unusable;
      /** For people, with the name of the file. */
      readonly sentence: string;
      /** Everything that is wrong with its records. */
      readonly problems: readonly FileProblem[];
    };

/** Judge a text. Never throws, whatever the text. */
export function judgeText(text: string, name: string): Judged {
  const file = name === '' ? documentWords.theText : name;
  const refuse = (why: Unusable, sentence: string, problems: readonly FileProblem[] = []): Judged => ({
    ok: false,
    why,
    sentence,
    problems,
  });
  if (text.length > LARGEST_BYTES) return refuse('too-large', documentWords.tooLarge(file, LARGEST_BYTES / 1_000_000));
  if (text.trim() === '') return refuse('empty', documentWords.empty(file));
  const read = readPanel(text);
  if (read.ok) return { ok: true, panel: read.panel };
  const { problems } = read;
  const [first] = problems;
  if (first?.line !== undefined) {
    // A text that says what it is and then breaks off was a panel once.
    return saysItIsOurs(text)
      ? refuse('damaged', documentWords.damaged(file, problemLine(problems)), problems)
      : refuse('not-json', documentWords.noPanelFile(file, problemLine(problems)), problems);
  }
  const format = problems.find(({ path }) => path === 'format' || path === '');
  if (format !== undefined && !saysItIsOurs(text))
    return refuse('not-ours', documentWords.noPanelFile(file, documentWords.noFormat(FORMAT)), problems);
  const version = newerVersion(text);
  if (version !== null) return refuse('newer', documentWords.newer(file, version, VERSION), problems);
  return refuse('damaged', documentWords.damaged(file, problemLine(problems)), problems);
}

const saysItIsOurs = (text: string): boolean => new RegExp(`"format"\\s*:\\s*"${FORMAT}"`).test(text);

/** The version that the text gives, where it is newer than ours. */
function newerVersion(text: string): number | null {
  const file: unknown = JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text);
  if (typeof file !== 'object' || file === null || !('version' in file)) return null;
  const { version } = file;
  return typeof version === 'number' && Number.isInteger(version) && version > VERSION ? version : null;
}
