/** The certificate of the proof as plain data; what is not there is left out, so that it stays small. */
import type { Certificate, CertifiedIsland, CertifiedPoint } from '../truth/index.ts';
import type { PartRecord } from '../wiring/index.ts';
import type { TruthAnswer } from './answer-schemas.ts';

type Answer = TruthAnswer['certificate'];

export function certificateAnswer(certificate: Certificate): Answer {
  const { settings, levers, points, carriers, joints, circuits, lamps } = certificate;
  return {
    settings,
    levers: levers.map(({ id, positions, sprung, turns }) => ({
      id,
      positions: [...positions],
      ...(sprung ? { sprung } : {}),
      ...(turns === null ? {} : { turns }),
    })),
    points: points.map((point) => ({ ...point })),
    carriers: carriers.map((carrier) => ({ ...carrier })),
    joints: joints.map(({ id, a, b }) => [id, a, b]),
    circuits: circuits.map(circuitAnswer),
    lamps: lamps.map((lamp) => ({
      ...lamp,
      claim: lamp.claim.map((lies) => ({ ...lies })),
      states: [...lamp.states],
      cases: lamp.cases.map((each) => ({
        levers: { ...each.levers },
        history: { ...each.history },
        states: [...each.states],
        shown: each.shown,
        should: each.should,
      })),
    })),
  };
}

function circuitAnswer({ circuits, nodes, records, states, left }: CertifiedIsland): Answer['circuits'][number] {
  return {
    circuits: [...circuits],
    nodes: [...nodes],
    elements: records.map(elementAnswer),
    states: states.map((state) => ({
      levers: { ...state.levers },
      history: { ...state.history },
      points: state.points.map(pointAnswer),
      amps: Object.fromEntries(
        Object.entries(state.amps).map(([id, [nominal, low, high]]) => [id, [nominal, low, high]]),
      ),
      residual: state.residual,
    })),
    ...(left.length === 0 ? {} : { left: [...left] }),
  };
}

function pointAnswer({ edge, group, lamp, dimmed, held, volts }: CertifiedPoint) {
  return {
    edge,
    ...(group === null ? {} : { group }),
    ...(lamp === null ? {} : { lamp }),
    ...(dimmed === 1 ? {} : { dimmed }),
    ...(Object.keys(held).length === 0 ? {} : { held: { ...held } }),
    volts: [...volts],
  };
}

/** A record without what it does not have. */
function elementAnswer(record: PartRecord): Answer['circuits'][number]['elements'][number] {
  const { kind, id, a, b } = record;
  const head = { kind, id, a, b };
  const plain = (figure: number | readonly [number, number, number]): number | [number, number, number] =>
    typeof figure === 'number' ? figure : [...figure];
  if (record.kind === 'contact') return { ...head, ...(record.by === null ? {} : { by: { ...record.by } }) };
  if (record.kind === 'resistor') {
    const { ohms, edge, group } = record;
    return {
      ...head,
      ohms: plain(ohms),
      ...(edge === null ? {} : { edge }),
      ...(group === null ? {} : { group }),
    };
  }
  if (record.kind === 'lamp') {
    const { vf, at, n, rs, group, beside } = record;
    return { ...head, vf: plain(vf), at, n, rs, group, ...(beside === null ? {} : { beside: [beside[0], beside[1]] }) };
  }
  if (record.kind === 'diode') return { ...head, vf: record.vf, at: record.at, n: record.n, rs: record.rs };
  if (record.kind === 'source') return { ...head, volts: plain(record.volts), ohms: record.ohms };
  return head;
}
