/** The circuit in its room: moved by hand, wheel and keys; what is pressed on it is picked. */
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react';
import type { PositionSum } from '../../book/index.ts';
import type { Spot } from '../../units/index.ts';
import { helped } from '../help/switch.ts';
import { ZoomPill } from '../lay/zoom-pill.tsx';
import { useSize } from '../use-app.ts';
import { wireWords } from '../words/wire.ts';
import type { WireShown } from '../worker/wire-types.ts';
import { CircuitChips, CircuitLines, CircuitSymbols, type Live } from './drawing.tsx';
import { CircuitUnder, CircuitValues } from './overlay.tsx';
import { type Eye, fitted, moved, opened, type Room, zoomed } from './view.ts';

interface Props {
  readonly shown: WireShown;
  readonly name: string;
  readonly live: Live;
  readonly sum: PositionSum | null;
  readonly pick: (id: string | null) => void;
}

/** Type at the drawing's own size, and the least that is read: px. */
const TYPE = 13.5;
const TYPE_LEAST = 12.6;
/** The size of text that nobody has changed; where it is larger, type here is too. px */
const USUAL_EM = 16;
/** Larger than this against the drawing it would run into its neighbours. */
const TYPE_MOST = 1.3;
/** In steps, so that a drawing that is zoomed is not drawn anew at every one. */
const typeAt = (scale: number, em: number): number =>
  Math.min(TYPE_MOST, Math.max(1, Math.ceil(((TYPE_LEAST * em) / USUAL_EM / TYPE / scale) * 20) / 20));

const STEP = 60;
const ZOOM = 1.25;
/** A hand that has gone so far drags; less is a press. px */
const DRAG = 5;

export function Circuit({ shown, name, live, sum, pick }: Props) {
  const { model } = shown;
  const { ref, size } = useSize();
  const [eye, setEye] = useState<Eye | null>(null);
  const element = useRef<HTMLDivElement | null>(null);
  const fingers = useRef(new Map<number, Spot>());
  const far = useRef(0);
  // Another circuit, or a drawing of another size, is seen whole.
  const [key, setKey] = useState('');
  const now = `${shown.circuit} ${model.size.join()}`;
  if (key !== now) {
    setKey(now);
    setEye(null);
  }
  const room: Room | null = size === null || size.width === 0 ? null : size;
  const type = (scale: number): number => typeAt(scale, size?.em ?? USUAL_EM);
  const at = room === null ? null : (eye ?? opened(model.size, room));
  const look = (next: (eye: Eye, room: Room) => Eye): void => {
    if (at !== null && room !== null) setEye(next(at, room));
  };
  const zoomMiddle = (by: number): void => look((each, { width, height }) => zoomed(each, by, [width / 2, height / 2]));

  useEffect(() => {
    const here = element.current;
    if (here === null) return;
    const wheel = (event: WheelEvent): void => {
      event.preventDefault();
      const box = here.getBoundingClientRect();
      const spot: Spot = [event.clientX - box.left, event.clientY - box.top];
      setEye((before) => {
        const from = before ?? opened(model.size, { width: box.width, height: box.height });
        return zoomed(from, event.deltaY < 0 ? 1.1 : 1 / 1.1, spot);
      });
    };
    here.addEventListener('wheel', wheel, { passive: false });
    return () => here.removeEventListener('wheel', wheel);
  }, [model]);

  const keyed = (event: KeyboardEvent): void => {
    const way: Readonly<Record<string, Spot>> = {
      ArrowLeft: [STEP, 0],
      ArrowRight: [-STEP, 0],
      ArrowUp: [0, STEP],
      ArrowDown: [0, -STEP],
    };
    const by = way[event.key];
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (by !== undefined) look((each, space) => moved(each, by, model.size, space));
    else if (event.key === '+' || event.key === '=') zoomMiddle(ZOOM);
    else if (event.key === '-') zoomMiddle(1 / ZOOM);
    else if (event.key === '0') look((_, space) => fitted(model.size, space));
    else if (event.key === 'Escape') pick(null);
    else return;
    event.preventDefault();
  };
  const spotOf = (event: PointerEvent): Spot => [event.clientX, event.clientY];
  const down = (event: PointerEvent): void => {
    fingers.current.set(event.pointerId, spotOf(event));
    far.current = 0;
  };
  const move = (event: PointerEvent<HTMLElement>): void => {
    const before = fingers.current.get(event.pointerId);
    if (before === undefined) return;
    const to = spotOf(event);
    const by: Spot = [to[0] - before[0], to[1] - before[1]];
    far.current += Math.hypot(by[0], by[1]);
    if (far.current < DRAG) return;
    if (!event.currentTarget.hasPointerCapture(event.pointerId)) event.currentTarget.setPointerCapture(event.pointerId);
    const other = [...fingers.current].find(([id]) => id !== event.pointerId)?.[1];
    fingers.current.set(event.pointerId, to);
    if (other === undefined) {
      look((each, space) => moved(each, by, model.size, space));
      return;
    }
    const box = event.currentTarget.getBoundingClientRect();
    const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
    const is = Math.hypot(to[0] - other[0], to[1] - other[1]);
    const middle: Spot = [(to[0] + other[0]) / 2 - box.left, (to[1] + other[1]) / 2 - box.top];
    look((each, space) =>
      zoomed(moved(each, [by[0] / 2, by[1] / 2], model.size, space), was > 0 ? is / was : 1, middle),
    );
  };
  const up = (event: PointerEvent): void => {
    fingers.current.delete(event.pointerId);
    if (far.current >= DRAG || !(event.target instanceof Element)) return;
    const part = event.target.closest<SVGElement>('[data-part], [data-chip], [data-wire]');
    pick(part?.dataset.part ?? part?.dataset.chip ?? part?.dataset.wire ?? null);
  };

  return (
    <div className="cct-room" {...helped('wire.circuit')}>
      <div
        ref={(each) => {
          element.current = each;
          ref(each);
        }}
        className="cct-view"
        tabIndex={-1}
        role="application"
        aria-label={wireWords.drawing(name)}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={(event) => fingers.current.delete(event.pointerId)}
      >
        {at === null || room === null ? null : (
          <svg
            className="cct"
            width={room.width}
            height={room.height}
            viewBox={`${at.at[0]} ${at.at[1]} ${room.width / at.scale} ${room.height / at.scale}`}
            fontSize={TYPE * type(at.scale)}
            aria-hidden="true"
            focusable="false"
          >
            <CircuitUnder model={model} sum={sum} />
            <CircuitLines model={model} live={live} />
            <CircuitSymbols model={model} live={live} />
            <CircuitChips model={model} live={live} type={type(at.scale)} />
            <CircuitValues model={model} live={live} type={type(at.scale)} sum={sum} />
          </svg>
        )}
      </div>
      <div className="zoom-at">
        <ZoomPill
          share={at === null ? null : at.scale}
          of={wireWords.zoomOf}
          help="wire.circuit"
          out={() => zoomMiddle(1 / ZOOM)}
          larger={() => zoomMiddle(ZOOM)}
          fit={() => look((_, space) => fitted(model.size, space))}
          fitTitle={wireWords.fitTitle}
          keyed={keyed}
          keys={wireWords.drawingKeys}
        />
      </div>
    </div>
  );
}
