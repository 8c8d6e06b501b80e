/** The sum of each string of lamps in each position: supply, lamps, what is left, current, bands, and what the dark string stands. */
import { memo, type ReactNode } from 'react';
import type { PositionSum, StringSum } from '../../book/index.ts';
import { helped } from '../help/switch.ts';
import { fixed } from '../words/figures.ts';
import { ampsText, milliamps, ohmsText, voltsText, wireWords } from '../words/wire.ts';
import { fails } from './overlay.tsx';
import { VoltsBar } from './volts-bar.tsx';

interface Props {
  readonly sums: readonly PositionSum[];
  readonly supplies: readonly string[];
  readonly lit: ReadonlySet<string>;
  readonly light: (ids: readonly string[]) => void;
}

export const Sums = memo(function Sums({ sums, supplies, lit, light }: Props) {
  return (
    <section className="sums" aria-label={wireWords.sums} {...helped('wire.sums')}>
      {sums.map(({ position, strings }) => (
        <div key={position ?? ''} className="sum-column">
          <h3>
            {position === null ? wireWords.sums : wireWords.position[position]}
            <span>{saidOf(strings)}</span>
          </h3>
          {alike(strings).map(({ string, lamps, times }) => (
            <OneSum
              key={lamps.join()}
              string={string}
              lamps={lamps}
              times={times}
              supplies={supplies}
              lit={lit}
              light={light}
            />
          ))}
        </div>
      ))}
    </section>
  );
});

function saidOf(strings: readonly StringSum[]): string {
  const lamps = strings.reduce((sum, each) => sum + each.lamps.length * each.strings, 0);
  const worst = strings.find(fails) ?? strings[0];
  return wireWords.lampCount(lamps, worst ?? null);
}

/** What is taken away; nothing has no sign. */
const minus = (volts: number): string => voltsText(-volts);

/** Strings whose sums read the same stand together. */
function alike(
  strings: readonly StringSum[],
): readonly { string: StringSum; lamps: readonly string[]; times: number }[] {
  const groups = new Map<string, { string: StringSum; lamps: string[]; times: number }>();
  for (const string of strings) {
    const { across, volts, left, amps, low, high, resistor, dark } = string;
    const key = [across, ...volts, left, amps * 1000, low * 1000, high * 1000, resistor?.ohms ?? 0, dark?.volts ?? 0]
      .map((figure) => fixed(figure, 2))
      .join(' ');
    const before = groups.get(key);
    if (before === undefined) groups.set(key, { string, lamps: [...string.lamps], times: 1 });
    else {
      before.lamps.push(...string.lamps);
      before.times += 1;
    }
  }
  return [...groups.values()];
}

interface OneProps extends Omit<Props, 'sums'> {
  readonly string: StringSum;
  readonly lamps: readonly string[];
  readonly times: number;
}

function OneSum({ string, lamps, times, supplies, lit, light }: OneProps) {
  const { resistor, drive, across, volts, left, amps, strings, low, high, wants, wanted, seen, look, dark } = string;
  const n = volts.length;
  const total = volts.reduce((sum, each) => sum + each, 0);
  const supply = fixed(across, 2);
  const short = wants > across && seen !== 'lit';
  const burns = look === 'bright' || look === 'destroyed' || high > string.most;
  const line = (
    key: string,
    words: ReactNode,
    value: ReactNode,
    ids: readonly string[],
    state: 'ok' | 'bad' | 'cau' | '' = '',
  ): ReactNode => {
    const pressed = ids.length > 0 && ids.every((id) => lit.has(id)) && lit.size === ids.length;
    return (
      <li key={key} className={state}>
        <button type="button" aria-pressed={pressed} onClick={() => light(pressed ? [] : ids)}>
          <span>{words}</span>
          <b>{value}</b>
        </button>
      </li>
    );
  };
  const quarter = fixed(across / 4, 2);
  return (
    <div className="sum">
      {times > 1 || strings > 1 || lamps.length > n ? (
        <p className="sum-of">{wireWords.strings(lamps, Math.max(times, strings))}</p>
      ) : null}
      <VoltsBar string={string} />
      <ol>
        {short
          ? line(
              'wants',
              wireWords.wants(n, milliamps(wanted), fixed(wants / n, 2)),
              voltsText(wants),
              string.lamps,
              'bad',
            )
          : line('supply', wireWords.supply, voltsText(across), supplies)}
        {short
          ? line('lamps', wireWords.takes(supply, n, fixed(total / n, 3)), minus(total), string.lamps)
          : line(
              'lamps',
              n === 1 ? wireWords.oneLamp : wireWords.lamps(n, fixed(total / n, 3)),
              minus(total),
              string.lamps,
            )}
        {resistor === null
          ? drive === null
            ? null
            : line('left', wireWords.leftDrive(drive), voltsText(left), [drive])
          : line(
              'left',
              short ? wireWords.leftQuarter(resistor.id, quarter) : wireWords.left(resistor.id),
              voltsText(left),
              [resistor.id],
              short ? 'bad' : 'ok',
            )}
        {line(
          'current',
          resistor === null
            ? wireWords.currentAlone
            : wireWords.current(fixed(left, short ? 3 : 2), ohmsText(resistor.ohms), strings),
          seen === 'doubtful'
            ? wireWords.doubtful(ampsText(amps))
            : burns
              ? wireWords.tooMuch(ampsText(amps), ampsText(string.most))
              : ampsText(amps),
          resistor === null ? string.lamps : [resistor.id, ...string.lamps],
          fails(string) || burns ? 'bad' : '',
        )}
        {line(
          'bands',
          wireWords.bands(milliamps(string.seenFrom)),
          wireWords.and(milliamps(low), milliamps(high)),
          string.lamps,
        )}
        {dark === null
          ? null
          : line(
              'reverse',
              wireWords.reverse(dark.lamps, fixed(dark.limit, 0)),
              voltsText(dark.volts),
              dark.lamps,
              dark.volts > dark.limit ? 'cau' : '',
            )}
      </ol>
    </div>
  );
}
