import { type Picked, placeName } from '../run/routes.ts';
import type { Card } from '../run/throws.ts';
import { leverName, positions, words } from '../words.ts';
import type { View } from '../worker/types.ts';

/** What Route card prints: black on white, a box to tick for each lever, in the order of the route. On paper only. */
export function RouteCard({
  view,
  picked,
  cards,
}: {
  readonly view: View;
  readonly picked: Picked;
  readonly cards: readonly Card[];
}) {
  const ends = [picked.route.from, picked.route.to].map((id) => placeName(view, id));
  const [from = '', to = ''] = picked.backwards ? ends.reverse() : ends;
  const rows = [...cards].filter((card) => card.kind !== 'free').sort((a, b) => order(a) - order(b));
  return (
    <section className="route-card" aria-hidden="true">
      <p>{view.name}</p>
      <h2>{words.cardHead(from, to)}</h2>
      <table>
        <thead>
          <tr>
            {words.cardColumns.map((column) => (
              <th key={column}>{column}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((card) => {
            const lever = view.levers.find(({ id }) => id === card.lever);
            return lever === undefined ? null : (
              <tr key={card.lever}>
                <td>{card.kind === 'throw' ? card.number : ''}</td>
                <td>{leverName(lever)}</td>
                <td>{card.kind === 'leave' ? `${positions[card.lie]}, ${words.leave}` : positions[card.lie]}</td>
                <td className="box" />
              </tr>
            );
          })}
        </tbody>
      </table>
      <p>{words.cardFoot}</p>
    </section>
  );
}

const order = (card: Card): number => (card.kind === 'throw' ? card.number : Number.MAX_SAFE_INTEGER);
