/** The track's feed: reversing sections, shorts and dead legs as far as the file states feeds and gaps, and the bus. */
import { editOf, type PanelFile } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import { type BusSum, DROP_MOST, REACH, sumBus, type TrackFeed, type TrackGap } from '../track/index.ts';
import type { Spot } from '../units/index.ts';
import { mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkTrack(input: CheckInput): readonly RawFinding[] {
  const { panel, track } = input;
  return [
    ...track.sections.flatMap((section) => sectionFindings(input, section)),
    ...shorts(panel, track),
    ...deadLegs(input),
    ...lostSpots(panel, track),
    ...track.buses.flatMap((bus) => busFindings(input, bus)),
  ];
}

function sectionFindings({ panel, track }: CheckInput, section: TrackFeed['sections'][number]): readonly RawFinding[] {
  const { begins, ends, length, train } = section;
  const found: RawFinding[] = [];
  const between = { begins: begins.feature, ends: ends.feature };
  if (section.cut === null) found.push(raw('reversing-section', [begins.feature], begins.at, between));
  if (section.cut === false) {
    const missing = track.gaps.filter((gap) => gap.state === 'missing' && gap.for.includes(section.id));
    found.push(
      raw('reversing-section-uncut', [begins.feature], begins.at, between, [
        cutGaps(panel, missing, 'Cut both rails at both ends'),
      ]),
    );
  }
  if (section.verdict === 'too-short' && length !== null && train !== null)
    found.push(
      raw('reversing-section-short', [begins.feature], begins.at, {
        length,
        train: panel.trains?.find(({ id }) => id === train.id)?.name ?? train.id,
        needs: train.length,
      }),
    );
  return found;
}

/** One finding for each set of frogs: in the fewest lies. */
function shorts(panel: PanelFile, track: TrackFeed): readonly RawFinding[] {
  const told = new Set<string>();
  return track.shorts.flatMap(({ when, frogs, at }): readonly RawFinding[] => {
    const key = frogs.join(' ');
    if (told.has(key)) return [];
    told.add(key);
    const lies = Object.entries(when).map(([point, lie]) => `${point} lies ${lie}`);
    const missing = track.gaps.filter((gap) => gap.state === 'missing' && gap.for.some((id) => frogs.includes(id)));
    const mends = missing.length === 0 ? [] : [cutGaps(panel, missing, 'Cut the rails that run into it')];
    return [
      raw('rails-short', frogs, at, { when: lies.length === 0 ? 'always' : `when ${lies.join(' and ')}` }, mends),
    ];
  });
}

function cutGaps(panel: PanelFile, gaps: readonly TrackGap[], text: string): Mend {
  const cut = gaps.map(({ at, stripRail }) => ({ at: rounded(at), rail: stripRail }));
  const edit = editOf(panel)
    .set('track', { ...panel.track, gaps: [...(panel.track?.gaps ?? []), ...cut] })
    .done('track.gaps');
  return mend('cut-gaps', text, cut.length === 0 ? null : edit);
}

/** As the tool writes spots: to a hundredth of a millimetre. */
function rounded([x, y]: Spot): [number, number] {
  return [Math.round(x * 100) / 100, Math.round(y * 100) / 100];
}

/** Only where the file says what feeds the track. */
function deadLegs({ panel, plan, track }: CheckInput): readonly RawFinding[] {
  const feeds = panel.track?.feeds ?? [];
  if (feeds.length === 0) return [];
  return track.legs.flatMap((leg): readonly RawFinding[] => {
    const span = plan.spans.find(({ id }) => id === leg.span);
    if (leg.whenSet !== 'dead' || !leg.complete || span === undefined) return [];
    const at = plan.points.find(({ id }) => id === leg.point)?.at ?? null;
    const middle = spotHalfWay(span.path, span.length);
    const edit = editOf(panel)
      .set('track', { ...panel.track, feeds: [...feeds, { at: rounded(middle) }] })
      .done('track.feeds');
    return [raw('leg-dead', [leg.point], at, { lie: leg.lie }, [mend('add-feed', 'Feed it half way along', edit)])];
  });
}

function spotHalfWay(path: readonly Spot[], length: number): Spot {
  let left = length / 2;
  for (let i = 0; i + 1 < path.length; i++) {
    const [a, b] = [path[i], path[i + 1]];
    if (a === undefined || b === undefined) continue;
    const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (left <= step && step > 0) return [a[0] + ((b[0] - a[0]) * left) / step, a[1] + ((b[1] - a[1]) * left) / step];
    left -= step;
  }
  return path[0] ?? [0, 0];
}

function lostSpots(panel: PanelFile, track: TrackFeed): readonly RawFinding[] {
  const tell = (key: 'feeds' | 'gaps', what: string, index: number): RawFinding => {
    const list = panel.track?.[key] ?? [];
    const rest = list.filter((_, i) => i !== index);
    const edit = editOf(panel)
      .set('track', { ...panel.track, [key]: rest.length === 0 ? undefined : rest })
      .done(`track.${key}`);
    const values = { what, number: index + 1, reach: REACH };
    return raw('track-spot-off', [], list[index]?.at ?? null, values, [
      mend('lift-spot', `Take the ${what} away`, edit),
    ]);
  };
  return [
    ...track.lostFeeds.map((index) => tell('feeds', 'feed', index)),
    ...track.otherGaps.filter(({ why }) => why === 'finds-no-track').map(({ index }) => tell('gaps', 'gap', index)),
  ];
}

function busFindings({ panel, catalogue }: CheckInput, bus: BusSum): readonly RawFinding[] {
  if (bus.booster === null || bus.amps === null) return [];
  const found: RawFinding[] = [];
  const ids = [bus.booster];
  if (bus.verdict === 'does-not-trip' && bus.shortAmps !== null && bus.neededAmps !== null)
    found.push(
      raw('short-not-seen', ids, null, { amps: bus.shortAmps, needs: bus.neededAmps }, [
        thicker(panel, catalogue, bus, (sum) => sum.verdict !== 'does-not-trip'),
      ]),
    );
  else if (bus.drop !== null && bus.dropShare !== null && bus.dropShare > DROP_MOST) {
    const volts = bus.drop / bus.dropShare;
    found.push(
      raw('bus-drop-large', ids, null, { drop: bus.drop, volts, amps: bus.amps, most: volts * DROP_MOST }, [
        thicker(panel, catalogue, bus, (sum) => (sum.dropShare ?? 1) <= DROP_MOST),
      ]),
    );
  }
  if (bus.wireAmps !== null && bus.wireAmps < bus.amps)
    found.push(
      raw('bus-wire-thin', ids, null, { most: bus.wireAmps, amps: bus.amps }, [
        thicker(panel, catalogue, bus, () => true),
      ]),
    );
  return found;
}

/** The thinnest bus wire of the catalogue that carries the trip and does; by hand where there is none. */
function thicker(panel: PanelFile, catalogue: Catalogue, bus: BusSum, does: (sum: BusSum) => boolean): Mend {
  const { track } = panel;
  const booster = track?.boosters?.find(({ id }) => id === bus.booster);
  const run = (of: { readonly length?: number | undefined; readonly gauge?: number | undefined } | undefined) => ({
    length: of?.length,
    gauge: of?.gauge,
  });
  const wire = [...catalogue.all('wire')]
    .sort((a, b) => a.gauge - b.gauge)
    .find(
      ({ gauge, amps }) =>
        amps >= (bus.amps ?? 0) &&
        gauge > (track?.bus?.gauge ?? 0) &&
        does(
          sumBus(
            {
              bus: { ...run(track?.bus), gauge },
              droppers: run(track?.droppers),
              booster: bus.booster,
              volts: booster?.volts,
              tripAmps: booster?.tripAmps,
            },
            amps,
          ),
        ),
    );
  if (wire === undefined)
    return mend('nearer-booster', 'Bring the booster nearer, or give the far end one of its own', null);
  const edit = editOf(panel)
    .set('track', { ...track, bus: { ...track?.bus, gauge: wire.gauge } })
    .done('track.bus');
  const length = track?.bus?.length;
  return mend(
    'thicker-bus',
    `Lay the bus in ${wire.gauge} mm2`,
    edit,
    length === undefined ? null : Math.round(((2 * length) / 1000) * wire.price * 100) / 100,
  );
}
