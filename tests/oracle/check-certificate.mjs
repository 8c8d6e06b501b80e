/**
 * Works the certificate of a `truth --json` answer out again, from the answer and the panel file alone, with nothing of the program
 * that made it: `node check-certificate.mjs PANEL.mimic.json ANSWER.json` prints ok and what it counted, or the first thing wrong.
 *
 * Of every state: no current is lost at any node, ideal sources hold their volts, contacts are as what closes them lies, and each
 * contact that could matter is named. Of every lamp: its states leave no setting out, and what it shows is what it should, or is listed.
 */
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const VT = (1.380649e-23 * 300.15) / 1.602176634e-19; // at 27 C
const LOST = 1e-9; // A that may be lost at a node: rounding of the volts across 0.05 ohm is a fiftieth of it
const CASES_MOST = 4096; // of one lamp that are told one by one
// Forward volts at 2 mA, and of the old kinds at 10 mA, as the description of the file gives them.
const VF = { red: 1.8, amber: 1.85, yellow: 1.9, green: 1.9, 'pure-green': 2.7, blue: 2.75, white: 2.75 };
const VF_OLD = { red: 1.9, amber: 2, yellow: 2.05, green: 2.1 };
const EDGES = ['low', 'nominal', 'high'];
const AGAINST = { low: 'high', nominal: 'nominal', high: 'low' };
const BOTH = ['normal', 'reverse'];
const other = (lie) => (lie === 'normal' ? 'reverse' : 'normal');
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const close = (a, b) => Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a));
const idsOf = (list) => list.map(({ id }) => id);
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
    if (amps * rs + n * VT * Math.log1p(amps / is) > volts) high = amps;
    else low = amps;
  }
  return (low + high) / 2;
}

/** Gives the one that stands for all that a node is joined with. */
function joinAll(pairs) {
  const up = new Map();
  const find = (node) => (up.has(node) ? find(up.get(node)) : node);
  for (const [a, b] of pairs) if (find(a) !== find(b)) up.set(find(b), find(a));
  return find;
}

/** Throws with the first thing that is wrong; gives what it counted. */
export function checkCertificate(panel, answer) {
  const told = answer.certificate;
  const byId = (list) => new Map(list.map((each) => [each.id, each]));
  const [levers, points, carriers] = [byId(told.levers), byId(told.points), byId(told.carriers)];
  const supplies = byId(panel.supplies ?? []);
  const count = { lamps: 0, left: 0, states: 0, corners: 0, cases: 0, settings: told.settings };
  checkLevers();
  checkSettings();
  checkClaims();
  const netOf = joinAll(told.joints.map(([, a, b]) => [a, b]));
  for (const circuit of told.circuits) checkCircuit(circuit);
  for (const lamp of told.lamps) checkLamp(lamp);
  return count;

  function checkLevers() {
    const worked = new Map();
    for (const { id, works, switch: part } of panel.levers ?? []) {
      for (const { point, opposite } of works ?? [])
        if (!worked.has(point)) worked.set(point, [id, opposite ? 'reverse' : 'normal']);
      const own = levers.get(id);
      if (part === undefined || idsOf(panel.parts ?? []).includes(part)) continue;
      need((own?.sprung ?? false) === /sprung/.test(part), `${id} springs back as its part does not`);
      need(own.positions.includes('centre') === /centre-off$/.test(part), `${id} has not its part's positions`);
    }
    if (panel.levers !== undefined)
      need(same(idsOf(panel.levers), idsOf(told.levers)), 'levers are not those of the file');
    const records = byId(panel.points ?? []);
    for (const { id, lever, whenNormal, of, opposite } of told.points) {
      const as = same([lever, whenNormal], worked.get(id) ?? [null, null]);
      need(panel.levers === undefined || as, `${id} is not worked as the file says`);
      const [own, first] = [records.get(id), records.get(of)];
      const shared = idsOf(panel.drives ?? []).includes(own?.drive) && own.drive === first?.drive;
      need(of === id || shared, `${id} does not share the drive of ${of}`);
      const turned = of !== id && (own.sense === 'opposite') !== (first.sense === 'opposite');
      need(opposite === turned, `${id} does not lie to ${of} as the file says`);
    }
  }

  function checkSettings() {
    const pointsOf = (id) => told.points.filter(({ lever }) => lever === id).length;
    let settings = 2n ** BigInt(pointsOf(null));
    for (const { id, sprung, positions } of told.levers) {
      const histories = 2n ** BigInt(pointsOf(id));
      settings *= sprung ? histories : positions.includes('centre') ? 2n + histories : 2n;
    }
    need(told.settings === `${settings}` && answer.settings === `${settings}`, `there are ${settings} settings`);
  }

  /** Lamps with their claims and parts, and what supplies give: what the file says of them by itself. */
  function checkClaims() {
    const lights = (panel.lamps ?? []).flatMap((lamp) =>
      lamp.elements?.length === 2
        ? lamp.elements.map(({ shows }, i) => ({ ...lamp, id: `${lamp.id}${'AB'[i]}`, shows }))
        : [lamp],
    );
    need(same(idsOf(lights), idsOf(told.lamps)), 'lamps are not those of the file');
    const claims = told.lamps.flatMap(({ claim }) => claim.flatMap((lies) => Object.entries(lies)));
    const elements = told.circuits.flatMap((each) => each.elements);
    for (const [i, light] of lights.entries()) {
      const lamp = told.lamps[i];
      const shows = [light.shows ?? []].flat();
      const isKnown = (lies) => !same(lies, {}) && Object.keys(lies).every((id) => points.has(id));
      const isRead = shows.length > 0 && shows.every(isKnown);
      const none = ['supply', 'occupancy', 'test'].includes(light.claims);
      need(!(none || isRead) || same(lamp.claim, none ? [] : shows), `${lamp.id} claims what the file does not say`);
      const isMute = ([point, lie]) => !claims.some(([of, as]) => of === point && as !== lie);
      const speaks = light.dark
        ? light.dark === 'opposite'
        : lamp.claim.some((lies) => Object.entries(lies).some(isMute));
      need(lamp.speaksWhenDark === speaks, `${lamp.id} ${speaks ? 'speaks' : 'says nothing'} when it is dark`);
      const [, colour, old] = /^led-[35]-([a-z-]*?)(-old)?$/.exec(light.part ?? 'led-3-amber') ?? [];
      const vf = (old ? VF_OLD : VF)[colour];
      if (vf === undefined || idsOf(panel.parts ?? []).includes(light.part)) continue;
      const seen = old ? 0.002 : 0.0002;
      need(same([lamp.seen, lamp.dark, lamp.max], [seen, seen / 20, 0.02]), `${lamp.id} is not seen as its part is`);
      const crystal = elements.find(({ kind, id }) => kind === 'lamp' && id === lamp.id);
      if (crystal === undefined) continue;
      const law = [crystal.at, crystal.n, crystal.rs, close(crystal.vf[0], vf + 0.1), close(crystal.vf[1], vf)];
      need(
        same(law, [old ? 0.01 : 0.002, 2, 5, true, true]) && close(crystal.vf[2], vf - 0.1),
        `${lamp.id} has another law`,
      );
    }
    for (const { kind, id, edge, ohms, volts } of elements) {
      const isBand = edge !== 'lamps' || (close(ohms[0] / ohms[1], 1.05) && close(ohms[2] / ohms[1], 0.95));
      need(isBand, `${id} has not its band`);
      const { kind: what = 'dc', volts: emf, tolerance: by = 0.05, voltsOffLoad = 0, ...rest } = supplies.get(id) ?? {};
      if (kind !== 'source' || emf === undefined || what !== 'dc') continue;
      const band = [emf * (1 - by), emf, Math.max(emf * (1 + by), voltsOffLoad)];
      need(
        band.every((each, k) => close(volts[k] ?? volts, each)) && ohms === (rest.ohms ?? 0),
        `${id} gives other volts`,
      );
    }
  }

  /** How a point lies by what is named, levers as "L1" and points of which nothing is asked as ".P1"; undefined: not told. */
  function lieOf(id, named) {
    const { lever, whenNormal, of, opposite } = points.get(id);
    const position = lever === null || levers.get(lever).sprung ? 'centre' : named[lever];
    if (position === 'centre') return named[`.${of}`] && (opposite ? other(named[`.${of}`]) : named[`.${of}`]);
    return position && (position === 'normal' ? whenNormal : other(whenNormal));
  }

  function checkCircuit({ circuits, nodes, elements, states }) {
    const places = new Map(nodes.map((node, i) => [netOf(node), i]));
    const parts = elements.map((each) => ({ ...each, p: places.get(netOf(each.a)), q: places.get(netOf(each.b)) }));
    for (const { id, p, q } of parts) need(p !== undefined && q !== undefined, `${id} ends at no node of ${circuits}`);
    const ofKind = (...kinds) => parts.filter(({ kind }) => kinds.includes(kind));
    const [sources, through] = [ofKind('source'), ofKind('resistor', 'lamp', 'diode')];
    const rails = new Set(sources.filter(({ ohms }) => ohms === 0).flatMap(({ p, q }) => [p, q]));
    const ideal = sources.every(({ ohms }) => ohms === 0) && circuits.length === 1;
    for (const [i, state] of states.entries()) checkState(state, `state ${i} of ${circuits}`);

    function checkState(state, where) {
      const named = namesOf(state);
      const isClosed = ({ by = null }) => {
        if (by === null) return false;
        const carrier = carriers.get(by.carrier);
        const lie = carrier === undefined ? undefined : lieOf(carrier.point, named);
        const lies = by.lever ? named[by.lever] : lie && (lie === carrier.whenNormal ? 'normal' : 'reverse');
        return lies && lies === by.lies;
      };
      const contacts = ofKind('contact').map((each) => ({ ...each, closed: isClosed(each) }));
      const lamps = ofKind('lamp').filter(({ id }) => state.amps[id] !== undefined);
      need(lamps.length === Object.keys(state.amps).length, `${where} tells of lamps that are not there`);
      const amps = state.points.map((point, k) => checkPoint(point, contacts, lamps, `corner ${k} of ${where}`));
      for (const { id, group, beside } of lamps) {
        const judged = beside ? [group, id] : ideal ? [] : [group];
        const at = EDGES.map((edge) => {
          const own = edge === 'nominal' ? [] : judged;
          const fits = (each) => each.edge === edge && same([each.group, each.lamp].filter(Boolean), own);
          return amps.flatMap((each, k) => (fits(state.points[k]) ? [each.get(id)] : []));
        });
        need(at.every(({ length }) => length > 0) && at[1].length === 1, `${where} lacks a corner of ${id}`);
        const range = [at[1][0], Math.min(at[1][0], ...at[0]), Math.max(at[1][0], ...at[2])];
        const isSo = (each, k) => Math.abs(each - state.amps[id][k]) <= LOST + 1e-6 * Math.abs(each);
        need(range.every(isSo), `${id} carries ${range} A in ${where}`);
      }
      need(state.residual >= 0 && state.residual <= LOST, `${where} says that ${state.residual} A are lost`);
      count.states += 1;
    }

    /** Amps of every lamp at one corner, once all currents are found to balance. */
    function checkPoint(point, contacts, lamps, at) {
      const { edge, group, lamp: judged, dimmed = 1, held = {}, volts } = point;
      const edgeOf = (own) => (own && (group ?? own) === own ? edge : AGAINST[edge]);
      const figure = (value, by) => (Array.isArray(value) ? value[EDGES.indexOf(by)] : value);
      const isTold = (node) => volts[node] !== null;
      const isHeld = (node) => rails.has(node) && ideal && same(held, {});
      const across = ({ p, q }) => volts[p] - volts[q];
      const emfOf = ({ id, volts: emf }) => held[id] ?? figure(emf, edge) * dimmed;
      const vfOf = ({ id, vf, group: own, beside }) => {
        const isNeighbour = beside && judged && judged !== id && own === group;
        return isNeighbour ? beside[edge === 'low' ? 0 : 1] : figure(vf, edgeOf(own));
      };
      const ampsOf = (part) => {
        if (part.kind === 'source') return (across(part) - emfOf(part)) / part.ohms;
        if (part.kind === 'resistor') return across(part) / figure(part.ohms, edgeOf(part.group));
        return diodeAmps(part, vfOf(part), across(part));
      };
      need(volts.length === nodes.length, `${at} has not the volts of every node`);
      need(dimmed === 1 || JSON.stringify(panel).includes('"dimmer"'), `${at} is dimmed`);
      for (const source of sources) {
        const { id, p, q, ohms, volts: emf } = source;
        const limit = supplies.get(id)?.limit ?? 'none';
        need(isTold(p) && isTold(q), `${at} has no volts at ${id}`);
        need(!held[id] || (limit !== 'none' && held[id] <= figure(emf, edge)), `${at} holds ${id} down`);
        need(ohms > 0 || close(across(source), emfOf(source)), `${id} does not give its volts at ${at}`);
      }
      for (const contact of contacts) {
        const { id, p, q, closed } = contact;
        const apart = [p, q].every((node) => !isTold(node) || isHeld(node));
        need(closed !== undefined || apart, `${at} does not say how ${id} lies`);
        need(!closed || apart || (isTold(p) && isTold(q)), `${id} is closed at ${at} and one end has no volts`);
        need(!closed || !isTold(p) || !isTold(q) || close(across(contact), 0), `${id} is closed at ${at} under volts`);
      }
      const clusterOf = joinAll(contacts.flatMap(({ p, q, closed }) => (closed ? [[p, q]] : [])));
      const live = new Set([...rails].map(clusterOf));
      const amps = new Map(lamps.map(({ id }) => [id, 0]));
      const lost = new Map();
      for (const part of [...through, ...sources.filter(({ ohms }) => ohms > 0)]) {
        if (!isTold(part.p) || !isTold(part.q)) continue;
        const own = ampsOf(part);
        if (part.kind === 'lamp') amps.set(part.id, Math.abs(own) < 1e-12 ? 0 : own);
        const [p, q] = [clusterOf(part.p), clusterOf(part.q)];
        lost.set(p, (lost.get(p) ?? 0) + own).set(q, (lost.get(q) ?? 0) - own);
      }
      for (const [node, own] of lost)
        need(live.has(node) || Math.abs(own) <= LOST, `${own} A are lost at ${nodes[node]} at ${at}`);
      checkFloating();
      count.corners += 1;
      return amps;

      /** Where no volts are told beside what matters, no current must find a way from higher to lower volts. */
      function checkFloating() {
        const ways = through.flatMap(({ kind, p, q }) =>
          kind === 'resistor'
            ? [
                [p, q],
                [q, p],
              ]
            : [[p, q]],
        );
        for (const { p, q, closed } of contacts) if (closed) ways.push([p, q], [q, p]);
        const spread = (starts, along, first) => {
          const seen = new Set(starts);
          for (const node of seen)
            if (!isTold(node) || node === first) for (const [a, b] of along) if (a === node) seen.add(b);
          return seen;
        };
        const matters = (node) => isTold(node) && !isHeld(node);
        const starts = through.flatMap(({ p, q }) =>
          matters(p) && !isTold(q) ? [q] : matters(q) && !isTold(p) ? [p] : [],
        );
        for (const { p, q } of lamps) starts.push(...[p, q].filter((node) => !isTold(node)));
        if (starts.length === 0) return;
        const region = spread(starts, [...ways, ...ways.map(([a, b]) => [b, a])]);
        const inside = ways.filter(([a, b]) => (region.has(a) && !isTold(b)) || (region.has(b) && !isTold(a)));
        for (const { id, p, q, closed } of contacts)
          need(
            closed !== undefined || ![p, q].some((node) => region.has(node) && !isTold(node)),
            `${at} leaves ${id} open`,
          );
        for (const from of region)
          if (isTold(from))
            for (const to of spread([from], inside, from))
              need(
                !isTold(to) || volts[to] > volts[from] - LOST,
                `${nodes[to]} takes a current at ${at} that is not told`,
              );
      }
    }
  }

  /** Every setting of what a lamp's claim hangs on: is there a state for all that may then be, and is what it shows true or listed? */
  function checkLamp(lamp) {
    const { id, claim, circuit } = lamp;
    const own = told.circuits.find(({ elements }) => elements.some((each) => each.kind === 'lamp' && each.id === id));
    need(own === (circuit === null ? undefined : told.circuits[circuit]), `${id} hangs in another circuit`);
    if (own?.left?.includes(id)) count.left += 1;
    if (claim.length === 0 || own?.left?.includes(id)) return;
    const tells = own?.states.filter(({ amps }) => amps[id] !== undefined) ?? [
      { levers: {}, history: {}, amps: { [id]: [0, 0, 0] } },
    ];
    const cubes = tells.map((state) => ({ amps: state.amps[id], names: Object.entries(namesOf(state)) }));
    const choices = (name) => levers.get(name)?.positions ?? BOTH;
    const covers = (fixed, used) => {
      const whole = cubes.filter(({ names }) => names.every(([name, lies]) => fixed[name] === lies));
      for (const { amps } of whole) used.push(amps);
      if (whole.length > 0) return used;
      const next = cubes.find(({ names }) => names.every(([name, lies]) => (fixed[name] ?? lies) === lies));
      need(next, `no state tells what ${id} shows with ${JSON.stringify(fixed)}`);
      const [name] = next.names.find(([each]) => fixed[each] === undefined);
      for (const lies of choices(name)) covers({ ...fixed, [name]: lies }, used);
      return used;
    };
    const named = [...new Set(claim.flatMap((lies) => Object.keys(lies)))];
    const isAsked = (point, fixed) => (fixed[points.get(point).lever] ?? 'centre') !== 'centre';
    let settings = [{}];
    for (const { id: lever, sprung, positions } of told.levers)
      if (!sprung && named.some((point) => points.get(point).lever === lever))
        settings = settings
          .flatMap((each) => positions.map((lies) => ({ ...each, [lever]: lies })))
          .slice(0, CASES_MOST + 1);
    for (const point of named) {
      const name = `.${points.get(point).of}`;
      const split = (each) =>
        isAsked(point, each) || each[name] ? [each] : BOTH.map((lie) => ({ ...each, [name]: lie }));
      settings = settings.flatMap(split).slice(0, CASES_MOST + 1);
    }
    count.lamps += 1;
    if (settings.length > CASES_MOST) return covers({}, []);
    const lists = ['untruths', 'doubtful', 'silent'].map((list) => [
      list,
      answer[list].filter((each) => each.lamp === id),
    ]);
    const met = new Set(settings.flatMap((fixed) => checkCase(lamp, fixed, covers(fixed, []), lists)));
    for (const [list, mine] of lists)
      need(
        mine.every((each) => met.has(each)),
        `${list} of ${id} lists what is not so`,
      );
  }

  /** The entries that tell of one case of a lamp, once they are found to be just those that must. */
  function checkCase({ id, claim, speaksWhenDark, seen, dark, max, cases }, fixed, ranges, lists) {
    count.cases += 1;
    const holds = ([point, lie]) => lieOf(point, fixed) === lie;
    const should = claim.some((lies) => Object.entries(lies).every(holds)) ? 'lit' : 'unlit';
    const [nominal, low, high] = [0, 1, 2].map((k) => ranges.map((range) => range[k]));
    const isDark = Math.max(...nominal) > 2 * max || Math.max(...high) <= dark;
    const shown = isDark ? 'dark' : Math.min(...low) >= seen ? 'lit' : 'doubtful';
    const isRight = should === 'lit' ? Math.min(...nominal) >= seen : Math.max(...nominal) < seen;
    const isSilent = isDark && Object.keys(fixed).some((name) => name.startsWith('.'));
    const isFalse = shown === 'doubtful' ? !isRight : (shown === 'lit') !== (should === 'lit');
    const isUntrue = isSilent ? speaksWhenDark && should === 'lit' : isFalse;
    const want = {
      untruths: isUntrue && { shown: should === 'lit' ? 'unlit' : 'lit', should },
      doubtful: shown === 'doubtful' && { side: isRight ? 'right' : 'wrong' },
      silent: isSilent && !isUntrue && {},
      cases: cases.length > 0 && { shown, should },
    };
    const agrees = ({ levers: at, history }) =>
      Object.entries(at).every(([lever, lies]) => (fixed[lever] ?? lies) === lies) &&
      Object.entries(history).every(holds);
    return [...lists, ['cases', cases]].flatMap(([list, mine]) => {
      const listed = mine.filter(agrees);
      const where = `${id} with ${JSON.stringify(fixed)} shows ${shown} and should be ${should}: ${list}`;
      need(listed.length === (want[list] ? 1 : 0), `${where} has ${listed.length}`);
      for (const [key, value] of Object.entries(want[list] || {}))
        need(listed[0][key] === value, `${where} says otherwise`);
      return listed;
    });
  }
}

function namesOf({ levers, history }) {
  return { ...levers, ...Object.fromEntries(Object.entries(history).map(([point, lie]) => [`.${point}`, lie])) };
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  try {
    const [panel, answer] = process.argv.slice(2, 4).map((path) => JSON.parse(readFileSync(path, 'utf8')));
    const { lamps, left, states, corners, cases, settings } = checkCertificate(panel, answer);
    const word = left === 0 ? '' : `, ${left} left to the word of the program`;
    console.log(
      `ok: ${lamps} lamps${word}, ${states} states at ${corners} corners, ${cases} cases, ${settings} settings`,
    );
  } catch (error) {
    console.log(error.message);
    process.exitCode = 1;
  }
}
