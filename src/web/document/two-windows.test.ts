/** Several windows on one panel: one edits, the others follow, and nobody overwrites anybody. */
import { describe, expect, it } from 'vitest';
import { type Random, randomOf } from '../../../tests/generate/random.ts';
import { startingPanel } from '../../../tests/generate/strokes.ts';
import { type FakeWindow, makeWorld, type WorldOptions } from '../../../tests/generate/windows.ts';
import { editOf } from '../../panel/index.ts';
import { type Keeper, startKeeper } from './keeper.ts';
import { FROM_OTHER_WINDOW, type KeptPanel } from './kept.ts';

interface Seat {
  readonly window: FakeWindow;
  readonly keeper: Keeper;
  readonly kept: KeptPanel;
}

async function sit(world: ReturnType<typeof makeWorld>, id: string | null): Promise<Seat & { readonly id: string }> {
  const window = world.open();
  const keeper = await startKeeper(window.surroundings, { database: window.database });
  const own = id ?? (await keeper.create({ panel: startingPanel() }));
  const opened = await keeper.open(own);
  if (!opened.ok) throw new Error(opened.sentence);
  return { window, keeper, kept: opened.kept, id: own };
}

const lay = ({ kept }: Seat, id: string): void =>
  kept.document.edit(
    editOf(kept.document.panel)
      .add('strips', {
        id,
        path: [
          [0, 0],
          [9, 9],
        ],
      })
      .done('strip.lay'),
  );
const pause = (ms = 1) => new Promise<void>((done) => setTimeout(done, ms));
const holds = (text: string, id: string): boolean => text.includes(`"${id}"`);

async function until(check: () => boolean): Promise<void> {
  for (let i = 0; i < 5_000 && !check(); i++) await pause(2);
  expect(check()).toBe(true);
}

const WORLDS: readonly (readonly [string, WorldOptions])[] = [
  ['locks and channels', {}],
  ['leases and channels', { locks: false }],
  ['locks alone', { channels: false }],
  ['leases alone', { locks: false, channels: false }],
];

describe.each(WORLDS)('two windows with %s', (_, options) => {
  it('edit and follow, and hand over on demand with every write finished', async () => {
    const world = makeWorld(options);
    const one = await sit(world, null);
    const two = await sit(world, one.id);
    expect([one.kept.state.role, two.kept.state.role]).toEqual(['editing', 'following']);
    lay(one, 'a1');
    await until(() => holds(two.kept.text(), 'a1'));
    expect(() => lay(two, 'no')).toThrow('edited in another window');
    lay(one, 'a2');
    expect(await two.kept.takeOver()).toBe(true);
    await until(() => one.kept.state.role === 'following');
    expect(holds(two.kept.text(), 'a2')).toBe(true);
    lay(two, 'b1');
    await until(() => holds(one.kept.text(), 'b1'));
    two.kept.document.undo();
    await until(() => !holds(one.kept.text(), 'b1'));
    await until(() => one.kept.document.redoes !== null);
    expect(one.kept.state.stranded).toEqual([]);
    await Promise.all([one.kept.close(), two.kept.close()]);
    const three = await sit(world, one.id);
    expect(three.kept.state.role).toBe('editing');
    await three.kept.close();
  });

  it('let a hand finish what it has begun before the panel goes, and know which of them had it before', async () => {
    const world = makeWorld(options);
    const one = await sit(world, null);
    const two = await sit(world, one.id);
    expect([one.kept.state.taken, two.kept.state.taken, two.kept.document.locked === null]).toEqual([
      false,
      false,
      false,
    ]);
    const deaf = one.kept.beforeLeaving(() => lay(one, 'stroke'));
    one.kept.beforeLeaving(() => {
      throw new Error('a hand that cannot finish holds nobody up');
    });
    expect(await two.kept.takeOver()).toBe(true);
    await until(() => one.kept.state.role === 'following');
    expect([one.kept.state.taken, two.kept.state.taken]).toEqual([true, false]);
    // Taken by force, where windows cannot speak to each other, it is beside the panel.
    await until(() =>
      [two.kept.text(), ...one.kept.state.stranded.map(({ text }) => text)].some((text) => holds(text, 'stroke')),
    );
    deaf();
    expect(await one.kept.takeOver()).toBe(true);
    await until(() => two.kept.state.role === 'following');
    expect([one.kept.state.taken, two.kept.state.taken]).toEqual([false, true]);
    await Promise.all([one.kept.close(), two.kept.close()]);
  });

  it('take it from a window that sleeps; what that had not written is kept as a version', async () => {
    const world = makeWorld(options);
    const one = await sit(world, null);
    const two = await sit(world, one.id);
    one.window.failWrites(() => 'refused');
    lay(one, 'late');
    one.window.sleep(true);
    expect(await two.kept.takeOver()).toBe(true);
    lay(two, 'b1');
    await two.kept.settled();
    one.window.failWrites(() => null);
    one.window.sleep(false);
    await until(() => one.kept.state.role === 'following');
    await until(() => holds(one.kept.text(), 'b1'));
    await until(() => one.kept.state.stranded[0]?.kept === true);
    expect(two.kept.state.role).toBe('editing');
    expect(holds(two.kept.text(), 'late')).toBe(false);
    const [version] = await two.kept.versions();
    expect(version?.name).toBe(FROM_OTHER_WINDOW);
    expect(holds(version?.text ?? '', 'late')).toBe(true);
    expect(one.kept.state.stranded).toMatchObject([{ edits: 1, kept: true }]);
    await Promise.all([one.kept.close(), two.kept.close()]);
  });

  it.each([11, 12, 13, 14, 15, 16, 17, 18])(
    'lose no edit and overwrite none, whatever the order of things: seed %i',
    async (seed) => {
      const random = randomOf(seed);
      const world = makeWorld(options);
      const first = await sit(world, null);
      const { id } = first;
      const seats: Seat[] = [first, await sit(world, id), await sit(world, id)];
      const laid: string[] = [];
      const taking: Promise<boolean>[] = [];
      for (let step = 0; step < 120; step++) {
        const at = random.whole(0, seats.length - 1);
        const seat = seats[at];
        if (seat === undefined) throw new RangeError(`no seat ${at}`);
        act(seat, step, at);
        if (random.chance(40)) await pause(random.whole(0, 3));
      }
      function act(seat: Seat, step: number, at: number): void {
        const draw = random.whole(0, 99);
        if (draw < 70 && seat.kept.state.role === 'editing') {
          const strip = `w${at}n${step}`;
          lay(seat, strip);
          laid.push(strip);
        } else if (draw < 82) taking.push(seat.kept.takeOver());
        else if (draw < 86) seat.window.sleep(random.chance(50));
        else if (draw < 90) failFor(seat, random);
      }
      for (const { window } of seats) {
        window.sleep(false);
        window.failWrites(() => null);
      }
      await Promise.all(taking);
      const editor = () => seats.find(({ kept }) => kept.state.role === 'editing');
      if (editor() === undefined) await seats[0]?.kept.takeOver();
      // A nudge that wakes windows which have missed their messages.
      await until(() => editor() !== undefined);
      for (const seat of seats) {
        if (seat.kept.state.role !== 'editing') continue;
        const strip = `last${seats.indexOf(seat)}`;
        lay(seat, strip);
        laid.push(strip);
        await seat.kept.settled();
      }
      await until(() => seats.filter(({ kept }) => kept.state.role === 'editing').length === 1);
      await until(() => new Set(seats.map(({ kept }) => kept.text())).size === 1);
      const kept = editor()?.kept ?? first.kept;
      const versions = (await kept.versions()).map(({ text }) => text);
      const beside = seats.flatMap((seat) => seat.kept.state.stranded.map(({ text }) => text));
      const lost = laid.filter((strip) => ![kept.text(), ...versions, ...beside].some((text) => holds(text, strip)));
      expect(lost).toEqual([]);
      expect(laid.length).toBeGreaterThan(0);
      const db = await first.window.database();
      const entries = await db.getAll('entries');
      expect(entries.map(({ seq }) => seq)).toEqual(entries.map((_, i) => i + 1));
      await Promise.all(seats.map((seat) => seat.kept.close()));
    },
  );
});

function failFor({ window }: Seat, random: Random): void {
  const left = random.whole(1, 3);
  window.failWrites((count) => (count <= left ? 'refused' : null));
}
