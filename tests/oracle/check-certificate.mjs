/**
 * Works the certificate of a `truth --json` answer out again, from the answer and the panel file alone: `node check-certificate.mjs
 * PANEL.mimic.json ANSWER.json` prints ok and what it counted, or the first thing wrong. Of every state no current is lost at any node,
 * sources hold their volts, contacts are as what closes them lies, and each that could matter is named. Of every lamp the states leave
 * no setting out, and what it shows is what it should, or is listed.
 */
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const VT = (1.380649e-23 * 300.15) / 1.602176634e-19; // at 27 C
const LOST = 1e-9; // A that may be lost at a node: rounding of the volts across 0.05 ohm is a fiftieth of it
const MOST = 4096; // cases of one lamp that are told one by one
const EDGES = ['low', 'nominal', 'high'];
const BOTH = ['normal', 'reverse'];
const other = (lie) => (lie === 'normal' ? 'reverse' : 'normal');
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const close = (a, b) => Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a));
const ids = (list = []) => list.map(({ id }) => id);
const byId = (list = []) => new Map(list.map((each) => [each.id, each]));
const pointsOf = (claim) => [...new Set(claim.flatMap((lies) => Object.keys(lies)))];
function need(holds, why) {
  if (!holds) throw new Error(why);
}
/** Amps at `volts` of a diode: i = Is (exp((v - i rs) / (n Vt)) - 1), Is from `vf` at `at`; by halving, the slow way. */
function diodeAmps({ at, n, rs }, vf, volts) {
  const is = at / Math.expm1((vf - at * rs) / (n * VT));
  if (volts <= 0 || rs === 0) return is * Math.expm1(volts / (n * VT));
  let [low, high] = [0, volts / rs];
  for (let halving = 0; halving < 200 && high - low > 1e-16 * high; halving++) {
    const amps = (low + high) / 2;
    [low, high] = amps * rs + n * VT * Math.log1p(amps / is) > volts ? [low, amps] : [amps, high];
  }
  return (low + high) / 2;
}
function joinAll(pairs) {
  const up = new Map();
  const find = (node) => (up.has(node) ? find(up.get(node)) : node);
  for (const [a, b] of pairs) if (find(a) !== find(b)) up.set(find(b), find(a));
  return find;
}
function namesOf({ levers, history }) {
  return { ...levers, ...Object.fromEntries(Object.entries(history).map(([point, lie]) => [`.${point}`, lie])) };
}
/** Throws with the first thing that is wrong; gives what it counted. */
export function checkCertificate(panel, answer) {
  const told = answer.certificate;
  const [levers, points, carriers] = [told.levers, told.points, told.carriers].map(byId);
  const [supplies, netOf] = [byId(panel.supplies), joinAll(told.joints.map(([, a, b]) => [a, b]))];
  checkLevers();
  checkLamps();
  told.circuits.forEach(checkCircuit);
  const shows = new Map(told.lamps.map((lamp) => [lamp, reader(lamp)]));
  const left = told.circuits.flatMap((each) => each.left ?? []);
  const lamps = told.lamps.filter(({ id, claim }) => claim.length > 0 && !left.includes(id));
  const states = told.circuits.flatMap((each) => each.states).length;
  const cases = lamps.flatMap(checkLamp).length;
  return { lamps: lamps.length, left: left.length, states, cases, settings: told.settings };
  function checkLevers() {
    const worked = new Map();
    for (const { id, works = [], switch: part, twin, feed = panel.feed } of panel.levers ?? []) {
      for (const { point, opposite } of works)
        if (!worked.has(point)) worked.set(point, [id, opposite ? 'reverse' : 'normal']);
      const by = ['pulse', 'charge'].includes(feed?.kind) ? undefined : twin?.by;
      need(levers.has(`${id}.twin`) === (by === 'two-way'), `the twin of ${id} is not as the file says`);
      if (part === undefined || ids(panel.parts).includes(part)) continue;
      const { sprung = false, positions } = levers.get(id);
      const is = [/sprung/.test(part) && by !== 'latch', /centre-off$/.test(part)];
      need(same(is, [sprung, positions.includes('centre')]), `${id} is of another part`);
    }
    const own = ids(told.levers.filter(({ turns }) => !turns));
    need(!panel.levers || same(ids(panel.levers), own), 'levers are not those of the file');
    const records = byId(panel.points);
    for (const { id, lever, whenNormal, of, opposite } of told.points) {
      const isWorked = !panel.levers || same([lever, whenNormal], worked.get(id) ?? [null, null]);
      const [own, first] = [records.get(id), records.get(of)];
      const isShared = of === id || (ids(panel.drives).includes(own?.drive) && own.drive === first?.drive);
      const isTurned = of !== id && (own?.sense === 'opposite') !== (first?.sense === 'opposite');
      need(isWorked && isShared && opposite === isTurned, `${id} is not worked, or driven, as the file says`);
    }
    const histories = (id) => 2n ** BigInt(told.points.filter(({ lever }) => lever === id).length);
    let settings = histories(null);
    for (const { id, sprung, positions } of told.levers)
      settings *= sprung ? histories(id) : positions.includes('centre') ? 2n + histories(id) : 2n;
    need(told.settings === `${settings}` && answer.settings === `${settings}`, `there are ${settings} settings`);
  }
  function checkLamps() {
    const halves = (lamp) =>
      lamp.elements.map(({ shows: own }, i) => ({ ...lamp, id: `${lamp.id}${'AB'[i]}`, shows: own }));
    const lights = (panel.lamps ?? []).flatMap((lamp) => (lamp.elements?.length === 2 ? halves(lamp) : [lamp]));
    need(same(ids(lights), ids(told.lamps)), 'lamps are not those of the file');
    const claims = told.lamps.flatMap(({ claim }) => claim.flatMap((lies) => Object.entries(lies)));
    const isMute = ([point, lie]) => !claims.some(([of, as]) => of === point && as !== lie);
    const isKnown = (lies) => !same(lies, {}) && Object.keys(lies).every((id) => points.has(id));
    for (const [i, { shows: own = [], dark, claims: kind }] of lights.entries()) {
      const { id, claim, speaksWhenDark } = told.lamps[i];
      const said = ['supply', 'occupancy', 'test'].includes(kind) ? [] : [own].flat();
      const isOpen = !same(own, []) && !said.every(isKnown);
      need(isOpen || same(own, []) || same(claim, said), `${id} claims what the file does not say`);
      const speaks = dark ? dark === 'opposite' : claim.some((lies) => Object.entries(lies).some(isMute));
      need(speaksWhenDark === speaks, `${id} ${speaks ? 'speaks' : 'says nothing'} when it is dark`);
    }
    for (const { kind, id, edge, ohms, volts } of told.circuits.flatMap((each) => each.elements)) {
      const isBand = (each, k) => close(each, [1.05, 1, 0.95][k] * ohms[1]);
      need(edge !== 'lamps' || ohms.every(isBand), `${id} has not its band`);
      const { volts: emf, tolerance: by = 0.05, voltsOffLoad = 0, ohms: r = 0, kind: is } = supplies.get(id) ?? {};
      if (kind !== 'source' || emf === undefined || (is ?? 'dc') !== 'dc') continue;
      const band = [emf * (1 - by), emf, Math.max(emf * (1 + by), voltsOffLoad)];
      const isSo = ohms === r && band.every((each, k) => close(volts[k] ?? volts, each));
      need(isSo, `${id} gives other volts`);
    }
  }
  /** What tells how a point lies of which nothing is asked, and how any lies by what is named; undefined: that does not tell. */
  function history(id, named) {
    const { lever, of } = points.get(id);
    return lever === null || levers.get(lever).sprung || named[lever] === 'centre' ? `.${of}` : undefined;
  }
  function lieOf(id, named) {
    const [name, { lever, whenNormal, opposite }] = [history(id, named), points.get(id)];
    const both = told.levers.flatMap((each) => (lever === (each.turns ?? each.id) ? [named[each.id]] : []));
    const lie = name ? named[name] : both.every(Boolean) ? whenNormal : undefined;
    const turned = name ? opposite : both.filter((lies) => lies === 'reverse').length % 2 === 1;
    return lie && turned ? other(lie) : lie;
  }
  function checkCircuit({ circuits, nodes, elements, states }) {
    const places = new Map(nodes.map((node, i) => [netOf(node), i]));
    const parts = elements.map((each) => ({ ...each, p: places.get(netOf(each.a)), q: places.get(netOf(each.b)) }));
    for (const { id, p, q } of parts) need(p >= 0 && q >= 0, `${id} ends at no node of ${circuits}`);
    const ofKind = (...kinds) => parts.filter(({ kind }) => kinds.includes(kind));
    const [sources, through] = [ofKind('source'), ofKind('resistor', 'lamp', 'diode')];
    const rails = new Set(sources.filter(({ ohms }) => ohms === 0).flatMap(({ p, q }) => [p, q]));
    const ideal = sources.every(({ ohms }) => ohms === 0) && circuits.length === 1;
    states.forEach((state, i) => checkState(state, `state ${i} of ${circuits}`));
    function checkState(state, where) {
      const named = namesOf(state);
      const closed = ({ by }) => {
        if (by === undefined || by.lever) return by !== undefined && named[by.lever] && named[by.lever] === by.lies;
        const { point, whenNormal } = carriers.get(by.carrier);
        const lie = lieOf(point, named);
        return lie && (lie === whenNormal) === (by.lies === 'normal');
      };
      const contacts = ofKind('contact').map((each) => ({ ...each, closed: closed(each) }));
      const lamps = ofKind('lamp').filter(({ id }) => state.amps[id] !== undefined);
      const amps = state.points.map((point, k) => checkPoint(point, contacts, lamps, `corner ${k} of ${where}`));
      for (const { id, group, beside } of lamps) {
        const judged = (edge) => (edge === 'nominal' || (ideal && !beside) ? [] : beside ? [group, id] : [group]);
        const [low, [nominal, ...more], high] = EDGES.map((edge) => {
          const fits = (each) => each.edge === edge && same([each.group, each.lamp].filter(Boolean), judged(edge));
          return amps.flatMap((each, k) => (fits(state.points[k]) ? [each.get(id) ?? 0] : []));
        });
        need(low.length * high.length > 0 && nominal >= -1 && same(more, []), `${where} lacks a corner of ${id}`);
        const range = [nominal, Math.min(nominal, ...low), Math.max(nominal, ...high)];
        const isSo = (each, k) => Math.abs(each - state.amps[id][k]) <= LOST + 1e-6 * Math.abs(each);
        need(range.every(isSo), `${id} carries ${range} A in ${where}`);
      }
      const isWhole = lamps.length === Object.keys(state.amps).length && state.residual >= 0 && state.residual <= LOST;
      need(isWhole, `${where} loses ${state.residual} A, or tells of lamps that are not there`);
    }
    function checkPoint({ edge, group, lamp: judged, dimmed = 1, held = {}, volts }, contacts, lamps, at) {
      const edgeOf = (own) => (own && (group ?? own) === own ? edge : EDGES[2 - EDGES.indexOf(edge)]);
      const figure = (value, by) => (Array.isArray(value) ? value[EDGES.indexOf(by)] : value);
      const isTold = (node) => volts[node] !== null;
      const isHeld = (node) => rails.has(node) && ideal && same(held, {});
      const across = ({ p, q }) => volts[p] - volts[q];
      const emfOf = ({ id, volts: emf }) => held[id] ?? figure(emf, edge) * dimmed;
      const ampsOf = (part) => {
        if (part.kind === 'source') return (across(part) - emfOf(part)) / part.ohms;
        if (part.kind === 'resistor') return across(part) / figure(part.ohms, edgeOf(part.group));
        const isNeighbour = part.beside && judged && judged !== part.id && part.group === group;
        const vf = isNeighbour ? part.beside[edge === 'low' ? 0 : 1] : figure(part.vf, edgeOf(part.group));
        return diodeAmps(part, vf, across(part));
      };
      need(dimmed === 1 || /"dimmer"/.test(JSON.stringify(panel)), `${at} is dimmed`);
      for (const { id, p, q, ohms, volts: emf } of sources) {
        const mayHold = (supplies.get(id)?.limit ?? 'none') !== 'none' && held[id] <= figure(emf, edge);
        need(isTold(p) && isTold(q) && (held[id] === undefined || mayHold), `${at} holds ${id} down`);
        need(ohms > 0 || close(volts[p] - volts[q], emfOf({ id, volts: emf })), `${id} gives other volts at ${at}`);
      }
      for (const { id, p, q, closed } of contacts) {
        const apart = [p, q].every((node) => !isTold(node) || isHeld(node));
        const isSo = closed && isTold(p) && isTold(q) ? close(volts[p] - volts[q], 0) : closed === false || apart;
        need(isSo, `${id} is not told at ${at}, or is closed and volts stand across it`);
      }
      const joined = contacts.flatMap(({ p, q, closed }) => (closed ? [[p, q]] : []));
      const clusterOf = joinAll(joined);
      const [amps, lost] = [new Map(), new Map()];
      for (const part of [...through, ...sources.filter(({ ohms }) => ohms > 0)]) {
        if (!isTold(part.p) || !isTold(part.q)) continue;
        const own = ampsOf(part);
        if (part.kind === 'lamp') amps.set(part.id, Math.abs(own) < 1e-12 ? 0 : own);
        const [p, q] = [clusterOf(part.p), clusterOf(part.q)];
        lost.set(p, (lost.get(p) ?? 0) + own).set(q, (lost.get(q) ?? 0) - own);
      }
      for (const rail of rails) lost.delete(clusterOf(rail));
      for (const [node, own] of lost) need(Math.abs(own) <= LOST, `${own} A are lost at ${nodes[node]} at ${at}`);
      // Where no volts are told beside what matters, no current must find a way from higher to lower volts.
      const edges = through.filter(({ p, q }) => [p, q].some((node) => isTold(node) && !isHeld(node)));
      const starts = [...edges, ...lamps].flatMap(({ p, q }) => [p, q].filter((node) => !isTold(node)));
      const turned = (list) => list.map(([a, b]) => [b, a]);
      const both = [...joined, ...through.filter(({ kind }) => kind === 'resistor').map(({ p, q }) => [p, q])];
      const ways = [...both, ...turned(both), ...through.map(({ p, q }) => [p, q])];
      const spread = (from, along) => {
        const seen = new Set(from);
        for (const node of seen)
          if (!isTold(node) || from.includes(node)) for (const [a, b] of along) if (a === node) seen.add(b);
        return seen;
      };
      const region = spread(starts, [...ways, ...turned(ways)]);
      const isInside = (node) => region.has(node) && !isTold(node);
      const open = contacts.find(({ p, q, closed }) => closed === undefined && (isInside(p) || isInside(q)));
      need(open === undefined, `${at} does not say how ${open?.id} lies`);
      const inside = ways.filter(([a, b]) => isInside(a) || isInside(b));
      for (const from of [...region].filter(isTold))
        for (const to of [...spread([from], inside)].filter(isTold))
          need(volts[to] > volts[from] - LOST, `${nodes[to]} takes a current at ${at} that is not told`);
      return amps;
    }
  }
  /** Gives what a lamp carries, nominal, least and greatest, in every state that can be with what is fixed, none left out. */
  function reader({ id, circuit }) {
    const own = told.circuits.find(({ elements }) => elements.some((each) => each.kind === 'lamp' && each.id === id));
    need(own === told.circuits[circuit ?? -1], `${id} hangs in another circuit`);
    const states = own?.states ?? [{ levers: {}, history: {}, amps: { [id]: [0, 0, 0] } }];
    const cubes = states.flatMap((state) => (state.amps[id] ? [[state.amps[id], Object.entries(namesOf(state))]] : []));
    return function read(fixed, used = []) {
      const whole = cubes.filter(([, names]) => names.every(([name, lies]) => fixed[name] === lies));
      used.push(...whole.map(([amps]) => amps));
      if (whole.length > 0) return used;
      const next = cubes.find(([, names]) => names.every(([name, lies]) => (fixed[name] ?? lies) === lies));
      need(next, `no state tells what ${id} shows with ${JSON.stringify(fixed)}`);
      const [name] = next[1].find(([each]) => fixed[each] === undefined);
      for (const lies of levers.get(name)?.positions ?? BOTH) read({ ...fixed, [name]: lies }, used);
      return used;
    };
  }
  function checkLamp(lamp) {
    const named = pointsOf(lamp.claim);
    let settings = [{}];
    for (const { id: lever, sprung, positions, turns = lever } of told.levers)
      if (!sprung && named.some((point) => points.get(point).lever === turns))
        settings = settings.flatMap((each) => positions.map((lies) => ({ ...each, [lever]: lies }))).slice(0, MOST + 1);
    for (const point of named) {
      const asks = (lie) => ({ [`.${points.get(point).of}`]: lie });
      const split = (each) => (lieOf(point, each) ? [each] : BOTH.map((lie) => ({ ...each, ...asks(lie) })));
      settings = settings.flatMap(split).slice(0, MOST + 1);
    }
    if (settings.length > MOST) return [shows.get(lamp)({})];
    const entriesOf = (list) => answer[list].filter((each) => each.lamp === lamp.id);
    const lists = ['untruths', 'doubtful', 'silent'].map((list) => [list, entriesOf(list)]);
    const met = new Set(settings.flatMap((fixed) => checkCase(lamp, fixed, lists)));
    const isMet = (each) => met.has(each);
    for (const [list, entries] of lists) need(entries.every(isMet), `${list} of ${lamp.id} lists what is not so`);
    return settings;
  }
  function verdictOf(lamp, fixed, should) {
    const ranges = shows.get(lamp)(fixed);
    const [nominal, low, high] = [0, 1, 2].map((k) => ranges.map((range) => range[k]));
    const isDark = Math.max(...nominal) > 2 * lamp.max || Math.max(...high) <= lamp.dark;
    const shown = isDark ? 'dark' : Math.min(...low) >= lamp.seen ? 'lit' : 'doubtful';
    return { shown, isRight: should === 'lit' ? Math.min(...nominal) >= lamp.seen : Math.max(...nominal) < lamp.seen };
  }
  function checkCase(lamp, fixed, lists) {
    const { id, claim, cases, speaksWhenDark } = lamp;
    const holds = ([point, lie]) => lieOf(point, fixed) === lie;
    const should = claim.some((lies) => Object.entries(lies).every(holds)) ? 'lit' : 'unlit';
    const { shown, isRight } = verdictOf(lamp, fixed, should);
    const mine = pointsOf(claim);
    const free = mine.filter((point) => history(point, fixed));
    // Silent: nothing is asked, and all are dark that tell of such points and of none that this lamp does not tell of.
    const isNear = (theirs) => theirs.every((p) => mine.includes(p)) && theirs.some((p) => free.includes(p));
    const near = told.lamps.filter((each) => isNear(pointsOf(each.claim)));
    const isMute = shown === 'dark' && free.length > 0 && !(speaksWhenDark && should === 'lit');
    const isSilent = isMute && near.every((each) => verdictOf(each, fixed).shown === 'dark');
    const isFalse = shown === 'doubtful' ? !isRight : (shown === 'lit') !== (should === 'lit');
    const want = {
      untruths: isFalse && !isSilent && { shown: should === 'lit' ? 'unlit' : 'lit', should },
      doubtful: shown === 'doubtful' && { side: isRight ? 'right' : 'wrong' },
      silent: isSilent && {},
      cases: cases.length > 0 && { shown, should },
    };
    return [...lists, ['cases', cases]].flatMap(([list, entries]) => {
      const isOf = (each) => Object.entries(each.levers).every(([lever, lies]) => (fixed[lever] ?? lies) === lies);
      const listed = entries.filter((each) => isOf(each) && Object.entries(each.history).every(holds));
      const where = `${id} with ${JSON.stringify(fixed)} shows ${shown} and should be ${should}: ${list}`;
      need(listed.length === (want[list] ? 1 : 0), `${where} has ${listed.length}`);
      const isSo = ([key, value]) => listed[0][key] === value;
      need(Object.entries(want[list] || {}).every(isSo), `${where} says otherwise`);
      return listed;
    });
  }
}
if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  try {
    const [panel, answer] = process.argv.slice(2, 4).map((path) => JSON.parse(readFileSync(path, 'utf8')));
    console.log('ok:', JSON.stringify(checkCertificate(panel, answer)));
  } catch (error) {
    console.log(error.message);
    process.exitCode = 1;
  }
}
