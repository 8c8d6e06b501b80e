import { useEffect, useRef, useState } from 'react';
import { Minus, Plus } from '../icons.tsx';
import { useUnit } from '../unit.ts';
import { lengthIn } from '../words/figures.ts';
import { layWords } from '../words/lay.ts';
import type { RulerUnit } from './rulers.ts';
import { MEASURES, rescaled } from './screen-size.ts';

/** px that one press widens the picture by. */
const STEP = { small: 1, large: 10 } as const;

type Measure = keyof typeof MEASURES;

const sizeOf = (measure: Measure, unit: RulerUnit): string =>
  layWords.measureSize[measure](lengthIn(MEASURES[measure].width, unit));

/** Measures the screen: a known thing is laid against its picture, which is made as wide. */
export function MeasureScreen(props: {
  readonly screen: number;
  readonly measured: (pxPerMm: number) => void;
  readonly close: () => void;
}) {
  const { screen, measured, close } = props;
  const dialog = useRef<HTMLDialogElement>(null);
  const [measure, setMeasure] = useState<Measure>('card');
  const [px, setPx] = useState(screen);
  const unit = useUnit();
  useEffect(() => {
    if (dialog.current?.open === false) dialog.current.showModal();
  }, []);
  const { width, height } = MEASURES[measure];
  const by = (step: number) => () => setPx(rescaled(px, width, step));
  return (
    <dialog
      ref={dialog}
      className="dialog measure"
      aria-labelledby="measure-head"
      aria-describedby="measure-why"
      onClose={close}
      onKeyDown={(event) => event.stopPropagation()}
    >
      <h2 id="measure-head">{layWords.measureTitle}</h2>
      <p id="measure-why">{layWords.measureWhy}</p>
      <fieldset className="seg" aria-label={layWords.measureTitle}>
        {(['card', 'ruler'] as const).map((each) => (
          <button key={each} type="button" aria-pressed={each === measure} onClick={() => setMeasure(each)}>
            {layWords.measureWith[each]}, {sizeOf(each, unit)}
          </button>
        ))}
      </fieldset>
      <div className="measure-room">
        <svg
          className="measure-picture"
          width={width * px}
          height={height * px}
          viewBox={`0 0 ${width} ${height}`}
          role="img"
          aria-label={`${layWords.measureWith[measure]}, ${sizeOf(measure, unit)}`}
        >
          {measure === 'card' ? (
            <>
              {/* The corners of an ID-1 card have a radius of 3.18 mm: ISO/IEC 7810. */}
              <rect x=".25" y=".25" width={width - 0.5} height={height - 0.5} rx="3.18" />
              <path d="M10 20h13v10H10zM10 42h50" />
            </>
          ) : (
            <path d={rulerPath(width, height)} />
          )}
        </svg>
      </div>
      <fieldset className="measure-steps" aria-label={layWords.pxPerMm(px, unit)}>
        <button type="button" className="btn" onClick={by(-STEP.large)}>
          <Minus />
          {layWords.muchNarrower}
        </button>
        <button type="button" className="btn" onClick={by(-STEP.small)}>
          <Minus />
          {layWords.narrower}
        </button>
        <button type="button" className="btn" onClick={by(STEP.small)}>
          <Plus />
          {layWords.wider}
        </button>
        <button type="button" className="btn" onClick={by(STEP.large)}>
          <Plus />
          {layWords.muchWider}
        </button>
      </fieldset>
      <output className="measure-px">{layWords.pxPerMm(px, unit)}</output>
      <form method="dialog" className="measure-acts">
        <button type="submit" className="btn">
          {layWords.cancel}
        </button>
        <button type="submit" className="btn primary" onClick={() => measured(px)}>
          {layWords.measureDone}
        </button>
      </form>
    </dialog>
  );
}

/** A ruler with a tick at each millimetre. */
function rulerPath(width: number, height: number): string {
  const ticks = Array.from({ length: width + 1 }, (_, x) => `M${x} 0v${x % 10 === 0 ? 10 : x % 5 === 0 ? 7 : 4}`);
  return `${ticks.join('')}M0 ${height - 0.25}H${width}`;
}
