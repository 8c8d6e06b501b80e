/** The sheet as a list in reading order: what each row says, and what a hand on the keys can do with it. */
import {
  type Called,
  type Described,
  distance,
  type Leads,
  type Picked,
  type StripEndFacts,
} from '../../laying/index.ts';
import type { Lies, PanelFile } from '../../panel/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import { lengthIn, list } from '../words/figures.ts';
import { kinds, outlineWords } from '../words/lay.ts';
import { lengthWords } from './lengths.ts';
import type { RulerUnit } from './rulers.ts';
import { stripName, thingName } from './thing-names.ts';

/** The end of a strip that makes a point lies no farther from the spot that is read as the point: about a tape. */
const END: Millimetre = 6;

export interface OutlineRow {
  readonly key: string;
  readonly text: string;
  /** Shortly, for what is said of it. */
  readonly name: string;
  /** What Enter picks and Alt with an arrow moves; null where it cannot be moved by itself. */
  readonly picks: Picked | null;
  /** Can it be lifted by itself? */
  readonly lifts: boolean;
}

/** Rows of a panel, of what it was described as. */
export function outlineRows(panel: PanelFile, things: readonly Described[], unit: RulerUnit): readonly OutlineRow[] {
  return things.map((thing) => ({ key: `${thing.kind} ${thing.id}`, ...rowOf(panel, thing, unit) }));
}

type Said = Omit<OutlineRow, 'key'>;

function rowOf(panel: PanelFile, thing: Described, unit: RulerUnit): Said {
  const called = ({ id, name }: Called): string => name ?? stripName(panel, id);
  const leads = ({ strip, place }: Leads): string => place?.name ?? called(strip);
  switch (thing.kind) {
    case 'strip': {
      const { name, length, ends } = thing.facts;
      const said = called({ id: String(thing.id), name });
      const text = outlineWords.strip(
        said,
        unit === 'mm' ? lengthIn(Math.round(length), unit) : lengthWords(length, unit),
        ends.map((end) => endText(called, end)),
      );
      return lone({ list: 'strips', id: thing.id }, said, text);
    }
    case 'point': {
      const { on, normal, reverse, workedBy } = thing.facts;
      const by = list(workedBy.map(({ id }) => id));
      const text = outlineWords.point(String(thing.id), called(on), leads(normal), leads(reverse), by);
      return { name: String(thing.id), text, picks: endAt(panel, thing.at), lifts: false };
    }
    case 'crossing': {
      const [a, b] = thing.facts.strips;
      const text = outlineWords.crossing(String(thing.id), thing.facts.of, called(a), called(b));
      return { name: text, text, picks: null, lifts: false };
    }
    case 'place': {
      const { name, of, strip } = thing.facts;
      const said = name ?? String(thing.id);
      const text = outlineWords.place(said, of === 'end', strip === null ? null : called(strip), name !== null);
      const recorded = panel.places?.some(({ id }) => id === thing.id) === true;
      return { name: said, text, picks: recorded ? { list: 'places', id: thing.id } : null, lifts: recorded };
    }
    case 'lamp': {
      const { name, strip, shows, elements } = thing.facts;
      const lies = [...shows, ...elements.flatMap((each) => each.shows)].map(liesText);
      const id = String(thing.id);
      return lone({ list: 'lamps', id }, id, outlineWords.lamp(id, name, strip === null ? null : called(strip), lies));
    }
    case 'lever': {
      const id = String(thing.id);
      const works = list(thing.facts.works.map(({ point }) => point));
      return lone({ list: 'levers', id }, id, outlineWords.lever(id, thing.facts.name, works));
    }
    case 'button': {
      const id = String(thing.id);
      return lone({ list: 'buttons', id }, id, outlineWords.thing(kinds.buttons[0], id, thing.facts.name));
    }
    case 'plate':
      return nameless(panel, { list: 'plates', id: thing.id });
    case 'platform':
      return nameless(panel, { list: 'platforms', id: thing.id });
    case 'fixing':
      return nameless(panel, { list: 'fixings', id: thing.id });
    case 'keepOut':
      return nameless(panel, { list: 'keepOut', id: thing.id });
  }
}

function lone(picks: Picked, name: string, text: string): Said {
  return { name, text, picks, lifts: true };
}

/** A thing without an id: its kind, and what stands on it. */
function nameless(panel: PanelFile, picks: Picked): Said {
  const [name, [kind]] = [thingName(panel, picks), kinds[picks.list]];
  return lone(picks, name, name.startsWith(kind) ? name : outlineWords.thing(kind, name, null));
}

function endText(called: (what: Called) => string, end: StripEndFacts): string {
  switch (end.makes) {
    case 'point':
    case 'crossing':
      return outlineWords.endMakes(end.id, end.onto === null ? null : called(end.onto));
    case 'place':
      return outlineWords.endPlace(end.name ?? end.id, end.name !== null);
    case 'butt':
      return outlineWords.endButts(called(end.onto));
    case 'nothing':
      return outlineWords.endNothing;
  }
}

function liesText(lies: Lies): string {
  return list(Object.entries(lies).map(([point, lie]) => `${point} ${lie}`));
}

/** The end of a strip that makes a point: the one that lies nearest its spot. */
function endAt(panel: PanelFile, at: Spot): Picked | null {
  let best: { readonly picked: Picked; readonly off: Millimetre } | null = null;
  for (const { id, path } of panel.strips)
    for (const part of [0, path.length - 1]) {
      const end = path[part];
      const off = end === undefined ? Infinity : distance(end, at);
      if (off <= END && (best === null || off < best.off)) best = { picked: { list: 'strips', id, part }, off };
    }
  return best?.picked ?? null;
}
