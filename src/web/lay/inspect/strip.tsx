import type { CSSProperties } from 'react';
import { TAPES } from '../../../face/index.ts';
import { moveCorner, namePlace, setStrip, setThing, takeOutBend } from '../../../laying/index.ts';
import { DEFAULTS, type Strip, stripWidth } from '../../../panel/index.ts';
import { Cross } from '../../icons.tsx';
import { lengthIn } from '../../words/figures.ts';
import { layWords } from '../../words/lay.ts';
import { degreesWords, lengthWords } from '../lengths.ts';
import { type StripEnd, stripFacts } from '../strip-facts.ts';
import { stripName } from '../thing-names.ts';
import { useLay } from '../use-lay.ts';
import { Choice, LengthField, Section, TextField } from './fields.tsx';

/** Rolls that are always there; others that the file names are kept beside them. */
const ROLLS = ['graphite', 'oxide', 'slate'] as const;
const WIDTHS: readonly number[] = [3, 5, 6];
/** Tape narrower than this is a thread, and wider than this is no lining tape: mm. */
const WIDTH = { least: 0.5, most: 50 } as const;

const CLASSES: Readonly<Record<string, string>> = { oxide: 'tape-goods', slate: 'tape-store', graphite: 'tape-run' };

export function StripInspector({ strip }: { readonly strip: Strip }) {
  const panel = useLay((lay) => lay.laid);
  const view = useLay((lay) => lay.laidView);
  const unit = useLay((lay) => lay.unit);
  const edit = useLay((lay) => lay.edit);
  const subject = stripName(panel, strip.id);
  const facts = stripFacts(panel, view, strip);
  const { id } = strip;
  const tape = strip.tape ?? DEFAULTS.strip.tape;
  const rolls = [...new Set<string>([...ROLLS, ...panel.strips.flatMap((each) => each.tape ?? [])])];
  const width = stripWidth(strip);
  const cut = unit === 'mm' ? lengthIn(facts.cut, unit) : lengthWords(facts.cut, unit);
  return (
    <>
      <div className="side-name">
        <TextField
          label={layWords.name}
          value={strip.name}
          subject={subject}
          set={(name) => setStrip(panel, id, { name })}
        />
      </div>
      <Section help="sec.tape" head={layWords.tape} note={layWords.tapeOf(lengthWords(facts.length, unit), cut)}>
        <fieldset className="rolls" aria-label={layWords.tape}>
          {rolls.map((roll) => (
            <button
              key={roll}
              type="button"
              className={`roll ${CLASSES[roll] ?? 'tape-run'}`}
              aria-pressed={roll === tape}
              onClick={() => edit(setStrip(panel, id, { tape: roll }), subject)}
            >
              <i style={swatch(roll)} />
              {layWords.tapes[roll] ?? capital(roll)}
            </button>
          ))}
        </fieldset>
        <Choice
          label={layWords.width}
          options={WIDTHS.map((each) => [each, lengthIn(each, unit)] as const)}
          value={width}
          choose={(to) => edit(setStrip(panel, id, { width: to }), subject)}
        />
        <LengthField
          label={layWords.otherWidth}
          inline
          value={strip.width}
          fallback={DEFAULTS.strip.width}
          least={WIDTH.least}
          most={WIDTH.most}
          subject={subject}
          set={(to) => setStrip(panel, id, { width: to })}
        />
      </Section>
      <Section help="sec.ends" head={layWords.ends}>
        {facts.ends.map((end) => (
          <div key={end.corner} className="end-of">
            <End end={end} />
            {end.kind === 'free' ? <EndName end={end} /> : null}
          </div>
        ))}
      </Section>
      <Corners strip={strip} subject={subject} />
      <Section help="sec.onStrip" head={layWords.onStrip}>
        <dl className="kv">
          <dt>{facts.places.length > 1 ? layWords.places : layWords.place}</dt>
          <dd>{facts.places.map(({ id: place, name }) => name ?? place).join(', ') || layWords.noPoints}</dd>
          <dt>{layWords.points}</dt>
          <dd className="tags">
            {facts.points.length === 0 ? layWords.noPoints : null}
            {facts.points.map((point) => (
              <span key={point} className="tag mark">
                {point}
              </span>
            ))}
          </dd>
          <dt>{layWords.lamps}</dt>
          <dd>{layWords.lampsOn(facts.lamps.length, facts.levers)}</dd>
        </dl>
        <LengthField
          label={layWords.layoutLength}
          inline
          value={strip.layoutLength}
          fallback={null}
          least={1}
          subject={subject}
          set={(layoutLength) => setStrip(panel, id, { layoutLength })}
        />
      </Section>
    </>
  );
}

/** A tape that the style sheet has no class for shows its own colour, where it is known by name. */
function swatch(roll: string): CSSProperties {
  const colour = CLASSES[roll] === undefined ? TAPES[roll] : undefined;
  return colour === undefined ? {} : { background: colour };
}

function capital(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

function End({ end }: { readonly end: StripEnd }) {
  const panel = useLay((lay) => lay.laid);
  const unit = useLay((lay) => lay.unit);
  const { kind, at, point, onto, angle, place } = end;
  const other = onto === null ? '' : stripName(panel, onto);
  const word = {
    joins: layWords.joins(other),
    meets: layWords.meets(other),
    butts: layWords.buttsOn(other),
    free: place === null || place.name === null ? layWords.freeEnd : layWords.endOf(place.name),
  }[kind];
  return (
    <div className="end">
      <span className={point === null ? 'tag none' : 'tag mark'}>
        {point ?? (place === null || place.name !== null ? layWords.endTag : place.id)}
      </span>
      <span>
        {word}
        <small>
          {lengthWords(at[0], unit).replace(/ \S+$/, '')}, {lengthWords(at[1], unit)}
        </small>
      </span>
      {angle === null || kind === 'butts' ? null : <b>{degreesWords(angle)}</b>}
    </div>
  );
}

/** The name of a free end, which is a place. */
function EndName({ end }: { readonly end: StripEnd }) {
  const panel = useLay((lay) => lay.laid);
  const { at, place } = end;
  return (
    <TextField
      label={layWords.nameEnd}
      value={place?.name ?? undefined}
      placeholder={place?.id ?? ''}
      subject={place?.name ?? place?.id ?? ''}
      set={(name) => {
        if (name !== undefined) return namePlace(panel, at, { name });
        return place?.recorded === true ? setThing(panel, { list: 'places', id: place.id }, { name }) : null;
      }}
    />
  );
}

function Corners({ strip, subject }: { readonly strip: Strip; readonly subject: string }) {
  const panel = useLay((lay) => lay.laid);
  const unit = useLay((lay) => lay.unit);
  const edit = useLay((lay) => lay.edit);
  const picked = useLay((lay) => lay.picked);
  const { id, path } = strip;
  const parts = new Set(picked.flatMap((each) => (each.part === undefined ? [] : [each.part])));
  return (
    <Section help="sec.corners" head={layWords.corners}>
      <div className="corners">
        <div className="corner-row" aria-hidden="true">
          <span className="head x">
            {layWords.x} {unit}
          </span>
          <span className="head y">
            {layWords.y} {unit}
          </span>
        </div>
        {path.map(([x, y], i) => {
          const name = layWords.cornerNames(i, path.length);
          return (
            <div key={`${id} ${name}`} className="corner-row">
              <span className={parts.has(i) ? 'corner picked' : 'corner'}>{name}</span>
              <LengthField
                label={layWords.xOf(name)}
                labelUnseen
                value={x}
                subject={subject}
                set={(to) => (to === undefined ? null : moveCorner(panel, id, i, [to, y]))}
              />
              <LengthField
                label={layWords.yOf(name)}
                labelUnseen
                value={y}
                subject={subject}
                set={(to) => (to === undefined ? null : moveCorner(panel, id, i, [x, to]))}
              />
              {i > 0 && i < path.length - 1 ? (
                <button
                  type="button"
                  className="ibtn"
                  aria-label={layWords.takeOutOf(name)}
                  title={layWords.takeOutOf(name)}
                  onClick={() => edit(takeOutBend(panel, id, i), subject)}
                >
                  <Cross />
                </button>
              ) : null}
            </div>
          );
        })}
      </div>
      <LengthField
        label={layWords.bendOf}
        inline
        value={strip.bend}
        fallback={DEFAULTS.strip.bend}
        least={0}
        subject={subject}
        set={(bend) => setStrip(panel, id, { bend })}
      />
    </Section>
  );
}
