import { helped } from '../help/switch.ts';
import { Tick } from '../icons.tsx';
import type { Row } from '../run/row.ts';
import { type Card, nextPosition, positionOf, type RouteState } from '../run/throws.ts';
import { useApp } from '../use-app.ts';
import { leverName, positions, words } from '../words/run.ts';
import type { View, ViewLever } from '../worker/types.ts';

/** What the route asks of each lever: under the levers where they stand in one row, else as a list. A card ticks its lever. */
export function Cards(props: {
  readonly view: View;
  readonly cards: readonly Card[];
  readonly row: Row | null;
  readonly state: RouteState;
}) {
  const { view, cards, row, state } = props;
  if (view.levers.length === 0) return null;
  // Nothing is asked of anything: the room under the sheet says what would stand there.
  if (row !== null && cards.every((card) => card.kind === 'free'))
    return (
      <div className="cards row" {...helped('run.cards')}>
        <p className="asks-nothing">{asksNothing(state)}</p>
      </div>
    );
  return (
    <ul {...helped('run.cards')} className={row === null ? 'cards wrapped' : 'cards row'} aria-label={words.toThrow}>
      {view.levers.map((lever, i) => {
        const card = cards[i];
        return card === undefined ? null : (
          <li key={lever.id} className={`card-place ${card.kind}`} style={row === null ? undefined : placeOf(row, i)}>
            <CardView lever={lever} card={card} named={row === null} />
          </li>
        );
      })}
    </ul>
  );
}

function asksNothing(state: RouteState): string {
  if (state.kind === 'none') return words.pressOrPick;
  return state.kind === 'impossible' ? words.askNothing : words.noneAsked;
}

function placeOf(row: Row, i: number) {
  return { left: (row.middles[i] ?? 0) - row.width / 2, width: row.width };
}

function CardView({ lever, card, named }: { readonly lever: ViewLever; readonly card: Card; readonly named: boolean }) {
  const position = useApp((app) => positionOf(app.levers, lever.id));
  const throwLevers = useApp((app) => app.throwLevers);
  const name = named ? <span className="card-name">{leverName(lever)}</span> : null;
  if (card.kind === 'free') {
    if (!named)
      return (
        <span className="card free">
          <span className="unseen">{leverName(lever)} </span>
          {words.free}
        </span>
      );
    return (
      <button
        type="button"
        className="card free"
        onClick={() => throwLevers({ [lever.id]: nextPosition(lever.positions, position) })}
      >
        {name} <span className="card-lie">{positions[position]}</span>
      </button>
    );
  }
  const done = card.kind === 'leave' || card.done;
  const other = card.lie === 'normal' ? 'reverse' : 'normal';
  return (
    <label className={`card ${card.kind} ${done ? 'done' : 'open'}`}>
      <input
        className="unseen"
        type="checkbox"
        checked={done}
        aria-label={words.cardOf(leverName(lever), card.kind === 'throw' ? card.number : null, card.lie)}
        onChange={() => throwLevers({ [lever.id]: done ? other : card.lie })}
      />
      {name}
      {card.kind === 'throw' ? (
        <span className="card-number">
          {card.number}
          {card.done ? <Tick /> : null}
        </span>
      ) : null}
      <b>{positions[card.lie]}</b>
      {card.kind === 'leave' ? <span>{words.leave}</span> : null}
    </label>
  );
}
