import { type KeyboardEvent, useState } from 'react';
import { GRID } from '../../laying/index.ts';
import { helped } from '../help/switch.ts';
import { lengthIn } from '../words/figures.ts';
import { layWords, snapSaid } from '../words/lay.ts';
import { shareOfTrue, stepped, zoomed } from './camera.ts';
import { KeepLines } from './keep-line.tsx';
import { Magnet } from './lay-icons.tsx';
import { TYPED_SPOT, toSheet } from './lay-keys.ts';
import { lengthText } from './lengths.ts';
import { isMeasured } from './screen-size.ts';
import { MeasureScreen } from './true-size.tsx';
import { typeOn } from './typed-hand.ts';
import { useLay, useLayStore } from './use-lay.ts';
import { ZoomPill } from './zoom-pill.tsx';

/** Under the sheet: where the pointer is, what the hand falls on, what is laid, and how large it is drawn. */
export function LayFoot() {
  return (
    <div className="lay-foot">
      <KeepLines grave={false} />
      <Pointer />
      <Snapping />
      <Note />
      <Laid />
      <Zoom />
    </div>
  );
}

/** The only part that is drawn again with every move of the pointer. With a tool in the hand a spot can be typed there. */
function Pointer() {
  const pointer = useLay((lay) => lay.pointer);
  const unit = useLay((lay) => lay.unit);
  const places = unit === 'mm' ? 1 : 2;
  const said = (value: number): string => {
    const text = lengthText(Math.round(value * 10) / 10, unit);
    return text.slice(0, text.indexOf('.') + 1 + places);
  };
  const typing = useLay((lay) => lay.tool !== 'pick');
  if (typing)
    return <TypedSpot hint={pointer === null ? layWords.typeSpotSuch : `${said(pointer[0])} ${said(pointer[1])}`} />;
  return (
    <div className="pill pointer" aria-hidden="true" {...helped('pointer')}>
      <span>
        {layWords.x} <b>{pointer === null ? '–' : said(pointer[0])}</b>
      </span>
      <span>
        {layWords.y} <b>{pointer === null ? '–' : said(pointer[1])}</b> {unit}
      </span>
    </div>
  );
}

/** Where the tool lays, in figures. Stays while things are laid one after the other. */
function TypedSpot({ hint }: { readonly hint: string }) {
  const store = useLayStore();
  const unit = useLay((lay) => lay.unit);
  const [text, setText] = useState('');
  const [bad, setBad] = useState(false);
  const keyed = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.key === 'Escape') {
      store.getState().hand({ kind: 'cancel' });
      setText('');
      setBad(false);
      toSheet();
    } else if (event.key === 'Enter') {
      const done = typeOn(store, text);
      if (done) setText('');
      else store.getState().say(layWords.badSpot);
      setBad(!done && text.trim() !== '');
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <label className="pill pointer typed" title={layWords.typeSpotHow} {...helped('typed')}>
      <span className="unseen">{layWords.typeSpot}</span>
      <input
        id={TYPED_SPOT}
        value={text}
        data-taken={text === '' ? '' : undefined}
        placeholder={hint}
        aria-description={layWords.typeSpotHow}
        aria-invalid={bad}
        autoComplete="off"
        spellCheck={false}
        onChange={(event) => {
          setText(event.currentTarget.value);
          setBad(false);
        }}
        onKeyDown={keyed}
      />
      {unit}
    </label>
  );
}

function Snapping() {
  const snapping = useLay((lay) => lay.snapping);
  const unit = useLay((lay) => lay.unit);
  const by = useLay((lay) => lay.drawn?.by ?? null);
  const kind = by === null || by === 'free' ? null : by;
  return (
    <div className="pill" {...helped('snap')} title={snapping ? layWords.snapOrder(kind) : layWords.snapOff}>
      <Magnet />
      {!snapping ? (
        <span>{layWords.snapIsOff}</span>
      ) : kind === null ? (
        <span>{layWords.snapping(lengthIn(GRID, unit))}</span>
      ) : (
        <span>
          <b>{snapSaid(kind)}</b> <span className="pill-more">{layWords.drawnNth(kind)}</span>
        </span>
      )}
    </div>
  );
}

/** What could not be done, or what was left out; it is read out from the list of the sheet. */
function Note() {
  const note = useLay((lay) => lay.note);
  return note === '' ? null : (
    <div className="pill note" aria-hidden="true">
      {note}
    </div>
  );
}

function Laid() {
  const counts = useLay((lay) => lay.shown?.view.counts ?? null);
  const loose = useLay((lay) => lay.shown?.view.loose.length ?? 0);
  if (counts === null) return null;
  const { strips, points, levers, lamps } = counts;
  return (
    <div className="pill laid" {...helped('counts')}>
      <span>{layWords.counts(strips, points, points + loose, levers, lamps)}</span>
    </div>
  );
}

function Zoom() {
  const store = useLayStore();
  const share = useLay((lay) => (lay.camera === null ? null : shareOfTrue(lay.camera, lay.screen)));
  const screen = useLay((lay) => lay.screen);
  const fitSheet = useLay((lay) => lay.fitSheet);
  const measure = useLay((lay) => lay.measure);
  const [measuring, setMeasuring] = useState(false);
  const step = (way: 1 | -1) => () => {
    const { camera, size, look } = store.getState();
    if (camera !== null && size !== null) look(stepped(camera, way, size, store.getState().screen));
  };
  const trueSize = (px: number): void => {
    const { camera, size, look } = store.getState();
    if (camera !== null && size !== null) look(zoomed(camera, [size.width / 2, size.height / 2], px / camera.pxPerMm));
  };
  const isTrue = share !== null && Math.abs(share - 1) < 0.001;
  return (
    <>
      <ZoomPill
        share={share}
        of={layWords.zoomTitle}
        help="zoom"
        out={step(-1)}
        larger={step(1)}
        fit={() => fitSheet()}
        fitTitle={layWords.fitTitle}
      >
        {isTrue ? (
          <button type="button" className="word" title={layWords.measureTitle} onClick={() => setMeasuring(true)}>
            {layWords.measureAgain}
          </button>
        ) : (
          <button
            type="button"
            className="word"
            title={layWords.trueSizeTitle}
            onClick={() => {
              trueSize(screen);
              if (!isMeasured()) setMeasuring(true);
            }}
          >
            {layWords.trueSize}
          </button>
        )}
      </ZoomPill>
      {measuring ? (
        <MeasureScreen
          screen={screen}
          measured={(px) => {
            measure(px);
            trueSize(px);
          }}
          close={() => setMeasuring(false)}
        />
      ) : null}
    </>
  );
}
