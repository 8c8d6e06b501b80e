/** Decoders: addresses, boards, pairs and bytes, what they draw, and a test of each by its address. */
import { type Decoder, type DecoderList, inBits, inHex, type Numbering } from '../decoders/index.ts';
import type { Derived } from '../derive.ts';
import type { Lie } from '../panel/index.ts';
import { formatAmps, type Millimetre } from '../units/index.ts';
import { pt } from './page.ts';
import { type Flow, type Leaf, type Setting, startFlow } from './sheet.ts';
import { drawTable, type TableCell } from './table.ts';
import { counted, listed, ranges } from './words.ts';

const WORD_SIZE: Millimetre = pt(9);
const NOTE = { size: pt(9.2), indent: 5, after: 1.1 };

/** How its points lie when a decoder is told so: "P1 normal and P2 reverse". Empty where it moves none. */
export function toldWords(decoder: Decoder, told: Lie): string {
  return listed(decoder.points.map(({ point, whenNormal }) => `${point} ${lieWhen(whenNormal, told)}`));
}

/** How a point lies that lies `whenNormal` when its decoder is told normal. */
export function lieWhen(whenNormal: Lie, told: Lie): Lie {
  return whenNormal === told ? 'normal' : 'reverse';
}

export function decoderPages(derived: Derived, setting: Setting): Leaf[] {
  const { decoders: list } = derived;
  if (list.decoders.length === 0) return [];
  const flow = startFlow(setting, {
    title: 'Decoders',
    lead: `${counted(list.decoders.length, 'drive')} on the digital bus, told by an address and not by a lever. Nothing of them passes the connectors of the panel.`,
    name: 'decoders',
    bookmark: { title: 'Decoders', level: 0 },
  });
  flow.y += 1;
  for (const caution of cautionsFor(list)) flow.paragraph(caution, { ...NOTE, bullet: '!' });
  drawAddresses(flow, setting, list);
  drawBytes(flow, list);
  drawTest(flow, setting, list);
  return flow.leaves;
}

const FIRST_BOARD: Readonly<Record<Numbering, number>> = { 'board-1': 1, 'board-0': 0 };

function cautionsFor({ numbering, numberingSaid, ownBus, draw }: DecoderList): readonly string[] {
  const trips =
    draw.tripAll === null
      ? 'the file does not say where the bus trips'
      : `the bus trips at ${formatAmps(draw.tripAll)}`;
  return [
    'Never join the supply of the panel, or any pin of its connectors, to the rails or to the bus.',
    ownBus
      ? 'Accessories have a bus behind a booster or a breaker of its own: it never meets the rails or the bus of the track.'
      : 'Decoders hang on the bus of the track: a short on the track stops them too, and the point that would clear it is then moved by hand.',
    `One command draws up to ${formatAmps(draw.one)} while the point throws; all at once, as may be at power-up, ${formatAmps(draw.all)}; ${trips}. What trains draw comes on top.`,
    ...(numberingSaid
      ? []
      : [
          `The file does not say which board address 1 is on. Here it is board ${FIRST_BOARD[numbering]}; by the other way to count every address is four more. Where an address of the test throws another point or none, say track.numbering in the file and print again.`,
        ]),
  ];
}

/** What stands in place of bytes. */
function withoutBytes({ read }: Decoder): string {
  if (read === null) return 'no address yet';
  return read.kind === 'broadcast' ? 'the broadcast: not for a decoder' : 'out of range';
}

function drawAddresses(flow: Flow, { sheet }: Setting, { decoders, shared, numbering }: DecoderList): void {
  flow.heading('Addresses', `address 1 is on board ${FIRST_BOARD[numbering]}, pair 0; bytes are in sixteens`);
  flow.y += 0.6;
  drawTable(
    flow,
    sheet,
    [
      { title: 'Address', width: 14, anchor: 'end', font: 'text-700' },
      { title: 'Board', width: 11, anchor: 'end' },
      { title: 'Pair', width: 8, anchor: 'end' },
      { title: 'Decoder', width: { share: 1 }, font: 'text-600' },
      { title: 'Told normal', width: { share: 1.8 } },
      { title: 'Bytes', width: 19, font: 'text-600' },
      { title: 'Told reverse', width: { share: 1.8 } },
      { title: 'Bytes', width: 19, font: 'text-600' },
    ],
    decoders.map((decoder): TableCell[] => {
      const { id, address, read, packets } = decoder;
      const place = read?.kind === 'pair' ? read.place : null;
      return [
        address === null ? '' : String(address),
        place === null ? '' : String(place.board),
        place === null ? '' : String(place.pair),
        id,
        packets === null ? withoutBytes(decoder) : toldWords(decoder, 'normal'),
        packets === null ? '' : inHex(packets.normal),
        packets === null ? '' : toldWords(decoder, 'reverse'),
        packets === null ? '' : inHex(packets.reverse),
      ];
    }),
    { size: WORD_SIZE, pad: 0.6 },
  );
  for (const { address, ids } of shared)
    flow.paragraph(`${listed(ids)} share address ${address}: they always throw together.`, { size: WORD_SIZE });
}

/** How the bytes are made, shown on the first decoder that has some. */
function drawBytes(flow: Flow, { decoders }: DecoderList): void {
  const first = decoders.find(({ packets }) => packets !== null);
  if (first === undefined || first.packets === null || first.read?.kind !== 'pair') return;
  const { board, pair } = first.read.place;
  flow.paragraph(
    'The bytes are those of the basic accessory packet of NMRA S-9.2.1 (2012), 10AAAAAA 1AAACDDD and the XOR of both: A the board, its six low bits first and then its three high bits inverted; C 1 for on; D two bits of pair and one for the output of the pair, which is 1 for normal unless the file says otherwise.',
    { size: WORD_SIZE },
  );
  flow.paragraph(
    `${first.id}, board ${board} and pair ${pair}: normal ${inBits(first.packets.normal)}, reverse ${inBits(first.packets.reverse)}.`,
    { size: WORD_SIZE, strong: true },
  );
}

const STEPS = [
  'Take every train off the track and leave the panel unplugged. Switch the bus on, hands off the blades: points may throw at once.',
  'Send each address both ways: output 1 of its pair, then output 0. Look at the blades, not at the motor. Tick what lies as it should, and that nothing else has moved.',
  'Where a point goes the other way, turn it over at its decoder: swap its two wires there, or say the other output (drives.member) in the file. About half come out so at first.',
] as const;

/** One command moves all decoders of its address. */
function drawTest(flow: Flow, { sheet }: Setting, { decoders }: DecoderList): void {
  const sent = decoders.filter(({ packets }) => packets !== null);
  const addresses = [...new Set(sent.flatMap(({ address }) => (address === null ? [] : [address])))];
  if (addresses.length === 0) return;
  flow.heading('Test by address', counted(addresses.length * 2, 'command'));
  flow.y += 1;
  for (const [i, step] of STEPS.entries()) flow.paragraph(step, { ...NOTE, bullet: String(i + 1) });
  drawTable(
    flow,
    sheet,
    [
      { title: 'Address', width: 13, anchor: 'end', font: 'text-700' },
      { title: 'Output', width: 10, anchor: 'end', font: 'text-700' },
      { title: 'Decoder', width: { share: 0.8 } },
      { title: 'Then lies', width: { share: 1.6 } },
      { title: '', width: 4, anchor: 'end' },
    ],
    addresses.flatMap((address) =>
      ([1, 0] as const).map((output): TableCell[] => {
        const those = sent.filter((decoder) => decoder.address === address);
        const words = those.map((each) => toldWords(each, each.member === output ? 'normal' : 'reverse'));
        return [
          String(address),
          String(output),
          ranges(those.map(({ id }) => id)),
          words.filter((text) => text !== '').join(', ') || 'what it works',
          { tick: true },
        ];
      }),
    ),
    { size: WORD_SIZE, pad: 0.6, across: 2, gap: 2 },
  );
}
