/** Supplies and fuses: what hurts, what burns, what is too small. */
import { rectifiedVolts } from '../lamps/index.ts';
import { editOf, type Feed, type Supply, suppliesOf } from '../panel/index.ts';
import { formatAmps, formatFarads, formatVolts } from '../units/index.ts';
import { canFeed, type WiredSupply } from '../wiring/index.ts';
import { mend, money } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import {
  FUSE_HOLDS,
  LOW_VOLTAGE_AC,
  LOW_VOLTAGE_DC,
  OFF_LOAD_SHARE,
  STANDARD_FUSES,
  UNEQUAL_SHARE,
} from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

/** Supplies that a feed wants, in words; of DC where it is not said. */
const WANTS: Readonly<Record<string, string>> = {
  split: 'two of DC',
  'half-wave': 'AC',
  pulse: 'DC or a capacitor unit',
};

export function checkSupplies(input: CheckInput): readonly RawFinding[] {
  const { panel, wiring } = input;
  const found: RawFinding[] = [];
  const supplies = suppliesOf(panel);
  const capacitor = input.catalogue.find('capacitor', 'capacitor-4700');
  /** One behind each of the two diodes. */
  const smoothing = {
    farads: capacitor?.farads ?? 0.0047,
    price: capacitor === undefined ? null : money(2 * capacitor.price),
  };
  for (const problem of wiring.problems) {
    switch (problem.code) {
      case 'feed-lacks':
        found.push(
          raw(
            problem.what === 'farads' ? 'feed-no-capacitor' : 'feed-one-supply',
            [problem.lever],
            null,
            { feed: problem.feed },
            problem.what === 'farads' ? [giveCapacitor(problem.lever)] : [makeReversing(problem.lever)],
          ),
        );
        break;
      case 'return-unknown':
        found.push(
          raw(problem.code, [problem.return], null, {
            lever: problem.lever,
            ...(problem.back === undefined ? {} : { supply: problem.supply ?? '', back: problem.back }),
          }),
        );
        break;
      case 'supply-unknown':
        found.push(raw(problem.code, [problem.supply], null, { by: problem.by }, otherSupply(problem.by)));
        break;
      case 'supply-kind-unfit':
        if (problem.kind !== 'track') {
          const values = { kind: problem.kind, feed: problem.feed, wants: WANTS[problem.feed] ?? 'DC' };
          found.push(raw(problem.code, [problem.supply], null, values, fitting(problem.supply, problem.feed)));
        }
        break;
    }
  }
  for (const circuit of wiring.circuits) {
    if (circuit.feed === 'split') found.push(...ofSplit(circuit.supplies));
    if (circuit.feed === 'half-wave') found.push(...ofHalfWave(circuit.supply));
  }
  for (const supply of supplies) {
    if (supply.kind === 'track') found.push(raw('supply-from-track', [supply.id]));
    if (!supply.isolated && supply.kind !== 'battery') found.push(raw('supply-not-isolated', [supply.id]));
    const most = supply.kind === 'ac' ? LOW_VOLTAGE_AC : LOW_VOLTAGE_DC;
    const volts = Math.max(supply.volts, supply.voltsOffLoad ?? 0);
    if (volts > most) found.push(raw('supply-not-low-voltage', [supply.id], null, { volts, most }));
    const wired = wiring.supplies.find((each) => each.id === supply.id);
    if (wired !== undefined) found.push(...ofWired(supply, wired));
  }
  return once(found);

  /** Two supplies made into plus and minus: isolated from each other, and alike. */
  function ofSplit(ids: readonly string[]): readonly RawFinding[] {
    const two = ids.slice(0, 2).flatMap((id) => supplies.find((each) => each.id === id) ?? []);
    const [plus, minus] = two;
    if (plus === undefined || minus === undefined) return [];
    const pair = [plus.id, minus.id];
    const joined = two.filter(({ isolated, kind }) => !isolated && kind !== 'battery').map(({ id }) => id);
    const answer: RawFinding[] = [];
    if (joined.length > 0)
      answer.push(
        raw('supplies-not-isolated', pair, null, { which: joined.join(' and ') }, [
          mend('isolate', 'Use two plug-in supplies that are isolated from each other and from earth', null),
        ]),
      );
    const most = Math.max(plus.volts, minus.volts);
    if (Math.abs(plus.volts - minus.volts) > most * UNEQUAL_SHARE) {
      const record = panel.supplies?.find(({ id }) => id === minus.id);
      const edit = record === undefined ? null : editOf(panel).update('supplies', minus.id, { volts: plus.volts });
      answer.push(
        raw('supplies-unequal', pair, null, { plus: plus.volts, minus: minus.volts }, [
          mend('equal-volts', `Use two of ${formatVolts(plus.volts)}`, edit?.done('supply.volts') ?? null),
        ]),
      );
    }
    return answer;
  }

  /** Nothing smooths it: the mean of half a wave, and a flash a cycle. */
  function ofHalfWave(id: string): readonly RawFinding[] {
    const supply = supplies.find((each) => each.id === id);
    if (supply === undefined || supply.farads !== null) return [];
    const { farads, price } = smoothing;
    const volts = rectifiedVolts(supply).nominal;
    const smoothed = rectifiedVolts({ ...supply, farads }).nominal;
    const there = panel.supplies?.some((each) => each.id === id) === true;
    const edit = there ? editOf(panel).update('supplies', id, { farads }).done('supply.farads') : null;
    const text = `Put ${formatFarads(farads)} behind each diode`;
    return [
      raw('half-wave-flickers', [id], null, { volts, flashes: supply.frequency, smoothed }, [
        mend('smooth', text, edit, price),
      ]),
    ];
  }

  /** Another supply of the file that suits the feed, or the feed that suits the supply. */
  function fitting(id: string, feed: Feed['kind']): readonly Mend[] {
    const kind = supplies.find((each) => each.id === id)?.kind;
    const other = supplies.find((each) => canFeed(feed, each.kind));
    const levers = (panel.levers ?? []).filter(({ feed: own }) => own?.supplies?.[0] === id);
    const mends: Mend[] = [];
    if (other !== undefined && feed !== 'split') {
      let edit = editOf(panel);
      for (const { id: lever, feed: own } of levers)
        edit = edit.update('levers', lever, { feed: { ...own, supplies: [other.id] } });
      if (levers.length === 0) edit = edit.set('feed', { ...panel.feed, supplies: [other.id] });
      mends.push(mend('use-supply', `Feed it from ${other.id}`, edit.done('feed.supply')));
    }
    const turns = feed === 'reversing' || feed === 'split' || feed === 'half-wave';
    const to = turns && kind === 'ac' ? 'half-wave' : turns && kind !== 'cdu' ? 'reversing' : null;
    if (to !== null && to !== feed) {
      let edit = editOf(panel);
      for (const { id: lever, feed: own } of levers)
        edit = edit.update('levers', lever, { feed: { ...own, kind: to } });
      if (levers.length === 0) edit = edit.set('feed', { ...panel.feed, kind: to });
      const smooth = to === 'half-wave' && supplies.find((each) => each.id === id)?.farads === null;
      if (smooth && panel.supplies?.some((each) => each.id === id) === true)
        edit = edit.update('supplies', id, { farads: smoothing.farads });
      const text =
        to === 'half-wave' ? 'Feed it by half waves, of which two diodes make two polarities' : 'Feed it by reversing';
      mends.push(mend(`make-${to}`, text, edit.done('feed.kind'), smooth ? smoothing.price : null));
    }
    return mends;
  }

  function ofWired(supply: Supply, wired: WiredSupply): readonly RawFinding[] {
    const answer: RawFinding[] = [];
    if (wired.steadyAmps > wired.amps)
      answer.push(raw('supply-too-small', [wired.id], null, { has: wired.amps, needs: wired.steadyAmps }));
    else if (wired.worstAmps > wired.amps) {
      answer.push(raw('supply-small-at-switch-on', [wired.id], null, { has: wired.amps, needs: wired.worstAmps }));
    }
    if (supply.kind === 'dc' && supply.voltsOffLoad === null && supply.recorded) {
      answer.push(
        raw('supply-off-load-unknown', [wired.id], null, { volts: wired.volts, maybe: wired.volts * OFF_LOAD_SHARE }, [
          mend('measure', 'Measure it with nothing on it and enter the volts', null),
        ]),
      );
    }
    const thin = thinnestWire(wired);
    // A fuse that the supply's limit never lets blow is no protection: then the wire must carry the limit.
    const limited = supply.limit !== 'none' && (wired.fuse === null || wired.amps <= FUSE_HOLDS * wired.fuse.amps);
    if (limited && thin !== null && wired.amps > thin.amps) {
      answer.push(
        raw(
          'limit-above-wire',
          [wired.id],
          null,
          { amps: wired.amps, gauge: thin.gauge, wire: thin.amps },
          smaller(wired, thin.amps),
        ),
      );
    }
    if (wired.fuse === null) {
      if (supply.limit === 'none' && thin !== null && wired.amps > thin.amps) {
        answer.push(raw('fuse-none', [wired.id], null, { amps: wired.amps, wire: thin.amps }, fuse(wired, thin.amps)));
      }
      return answer;
    }
    if (thin !== null && wired.fuse.amps > thin.amps) {
      answer.push(
        raw(
          'fuse-above-wire',
          [wired.fuse.id],
          null,
          { fuse: wired.fuse.amps, gauge: thin.gauge, wire: thin.amps },
          fuse(wired, thin.amps),
        ),
      );
    }
    // A quick fuse feels the whole of a pulse, a slow one a quarter.
    const needs = wired.fuse.act === 'slow' ? wired.holdAmps : wired.worstAmps;
    if (wired.fuse.amps < needs) {
      const mends = thin === null ? [] : fuse(wired, thin.amps);
      answer.push(raw('fuse-too-small', [wired.fuse.id], null, { fuse: wired.fuse.amps, needs }, mends));
    }
    if (supply.limit !== 'none' && wired.amps <= FUSE_HOLDS * wired.fuse.amps) {
      answer.push(
        raw(
          'fuse-never-blows',
          [wired.fuse.id],
          null,
          { fuse: wired.fuse.amps, amps: wired.amps },
          smaller(wired, thin?.amps ?? wired.amps),
        ),
      );
    }
    return answer;
  }

  /** The thinnest wire behind a supply, and what it carries: the fuse must guard that one. */
  function thinnestWire(supply: WiredSupply): { readonly gauge: number; readonly amps: number } | null {
    const circuits = new Set([...supply.circuits, supply.id]);
    const gauges = input.loom.wires.filter((wire) => circuits.has(wire.circuit)).map((wire) => wire.gauge);
    if (gauges.length === 0) return null;
    const gauge = Math.min(...gauges);
    const wires = [...input.catalogue.all('wire')].sort((a, b) => a.gauge - b.gauge);
    const carries = wires.filter((part) => part.gauge <= gauge * (1 + ROUNDING)).map((part) => part.amps);
    if (carries.length > 0) return { gauge, amps: Math.max(...carries) };
    // Thinner than any in the list: as much less as its section is less.
    const least = wires[0];
    return least === undefined ? null : { gauge, amps: (least.amps * gauge) / least.gauge };
  }

  /** A rating that the supply's limit makes blow, no more than the wire carries and no less than is drawn. */
  function smaller(supply: WiredSupply, most: number): readonly Mend[] {
    const record = panel.supplies?.find((each) => each.id === supply.id);
    const amps = [...STANDARD_FUSES]
      .reverse()
      .find((rating) => rating * FUSE_HOLDS < supply.amps && rating <= most && rating >= supply.holdAmps);
    if (amps === undefined || record === undefined) return [];
    const edit = editOf(panel)
      .update('supplies', record.id, { fuse: { amps, act: supply.pulsed ? 'slow' : 'quick' } })
      .done('supply.fuse');
    return [mend('smaller-fuse', `Fit a fuse of ${formatAmps(amps)}`, edit)];
  }

  /** The feed of a lever, or of the panel where the lever says nothing, becomes a reversing one. */
  function makeReversing(id: string): Mend {
    const record = panel.levers?.find((each) => each.id === id);
    const edit =
      record?.feed?.kind !== undefined
        ? editOf(panel).update('levers', id, { feed: { ...record.feed, kind: 'reversing' as const } })
        : editOf(panel).set('feed', { ...panel.feed, kind: 'reversing' });
    return mend('make-reversing', 'Feed it by reversing', edit.done('feed.kind'));
  }

  /** A charge feed's capacitor: the usual size. */
  function giveCapacitor(id: string): Mend {
    const record = panel.levers?.find((each) => each.id === id);
    const part = input.catalogue.find('capacitor', 'capacitor-2200');
    const farads = part?.farads ?? 0.0022;
    const edit =
      record?.feed === undefined
        ? editOf(panel).set('feed', { ...panel.feed, farads })
        : editOf(panel).update('levers', id, { feed: { ...record.feed, farads } });
    return mend('give-capacitor', 'Use a capacitor of 2,200 uF', edit.done('feed.farads'), part?.price ?? null);
  }

  function otherSupply(lever: string): readonly Mend[] {
    const other = suppliesOf(panel)[0]?.id;
    if (other === undefined) return [];
    const record = panel.levers?.find((each) => each.id === lever);
    const edit =
      record?.feed?.supplies !== undefined
        ? editOf(panel).update('levers', lever, { feed: { ...record.feed, supplies: [other] } })
        : editOf(panel).set('feed', { ...panel.feed, supplies: [other] });
    return [mend('use-supply', `Feed it from ${other}`, edit.done('feed.supply'))];
  }

  /** A rating that the wire carries and that carries what is drawn; nothing where thicker wire is wanted first. */
  function fuse(supply: WiredSupply, most: number): readonly Mend[] {
    const record = panel.supplies?.find((each) => each.id === supply.id);
    const amps = [...STANDARD_FUSES].reverse().find((rating) => rating <= most && rating >= supply.holdAmps);
    if (amps === undefined) return [];
    const act = supply.pulsed ? ('slow' as const) : ('quick' as const);
    const fitted = { amps, act };
    const edit =
      record === undefined
        ? editOf(panel).add('supplies', { id: supply.id, fuse: fitted })
        : editOf(panel).update('supplies', record.id, { fuse: fitted });
    return [
      mend('fit-fuse', `Fit a ${supply.pulsed ? 'slow ' : ''}fuse of ${formatAmps(amps)}`, edit.done('supply.fuse')),
    ];
  }
}

/** Gauges come from decimal text: 0.22 is 0.22 within a last bit. */
const ROUNDING = 1e-9;

/** The same thing said of the same ids is said once. */
function once(found: readonly RawFinding[]): readonly RawFinding[] {
  const seen = new Set<string>();
  return found.filter((each) => {
    const key = `${each.code} ${each.ids.join(' ')} ${JSON.stringify(each.values)}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
