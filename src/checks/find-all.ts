import { byId } from '../plan/index.ts';
import { checkCircuits } from './circuits.ts';
import { CODES, type Code } from './codes.ts';
import { checkConnectors } from './connectors.ts';
import { checkContacts } from './contacts.ts';
import { checkDecoders } from './decoders.ts';
import { checkDrives } from './drives.ts';
import { checkFace } from './face.ts';
import { checkFile } from './file.ts';
import { checkFrogs } from './frogs.ts';
import { checkGroups } from './groups.ts';
import { checkLamps } from './lamps.ts';
import { checkNotBuilt } from './not-built.ts';
import { checkPlan } from './plan.ts';
import type { RawFinding } from './raw.ts';
import { checkRelays } from './relays.ts';
import { checkRoutes } from './routes.ts';
import { checkSupplies } from './supplies.ts';
import { checkSwitches } from './switches.ts';
import { checkTrack } from './track.ts';
import { checkTruth } from './truth.ts';
import { checkTwins } from './twins.ts';
import type { CheckInput, Finding, Severity } from './types.ts';

const SUBJECTS = [
  checkFile,
  checkPlan,
  checkRoutes,
  checkSwitches,
  checkTwins,
  checkContacts,
  checkRelays,
  checkLamps,
  checkGroups,
  checkTruth,
  checkDrives,
  checkDecoders,
  checkFrogs,
  checkTrack,
  checkSupplies,
  checkConnectors,
  checkCircuits,
  checkFace,
  checkNotBuilt,
] as const;

/** Worst first. */
export const SEVERITIES: readonly Severity[] = ['danger', 'wrong', 'caution', 'hint'];

/** Every finding of the panel: worst first, then by code, then by what it is about. */
export function findAll(input: CheckInput): readonly Finding[] {
  const found = SUBJECTS.flatMap((check) => check(input)).map(worded);
  return found
    .map((finding, i) => ({ finding, i }))
    .sort((a, b) => rank(a.finding) - rank(b.finding) || compare(a.finding, b.finding) || a.i - b.i)
    .map(({ finding }) => finding);
}

function worded({ code, ids, at, values, mends }: RawFinding): Finding {
  const { severity, say } = CODES[code satisfies Code];
  return { code, severity, where: { ids, at }, message: say(ids, values), values, mends };
}

function rank(finding: Finding): number {
  return SEVERITIES.indexOf(finding.severity);
}

function compare(a: Finding, b: Finding): number {
  if (a.code !== b.code) return a.code < b.code ? -1 : 1;
  return byId(a.where.ids.join(' '), b.where.ids.join(' '));
}
