import { type Picked, placeName, waysOf } from '../run/routes.ts';
import { leversAlong } from '../run/throws.ts';
import { list } from '../words/figures.ts';
import { leverName, positions, words } from '../words/run.ts';
import type { View } from '../worker/types.ts';

/**
 * What Print card prints: black on white, a box to tick for each lever, in the order of the route, then for each push button, on paper only.
 * It will be used when the levers lie otherwise than now, so it asks for every lever and button of the route.
 */
export function RouteCard({ view, picked }: { readonly view: View; readonly picked: Picked }) {
  const ends = [picked.route.from, picked.route.to].map((id) => placeName(view, id));
  const [from = '', to = ''] = picked.backwards ? ends.reverse() : ends;
  const rows = leversAlong(view, picked).flatMap((id) => {
    const lever = view.levers.find((known) => known.id === id);
    const lie = picked.route.levers?.[id];
    return lever === undefined || lie === undefined
      ? []
      : [{ id, name: leverName(lever), works: list(lever.works), lie: positions[lie] }];
  });
  const presses = view.buttons
    .filter(({ id }) => picked.route.presses.includes(id))
    .map(({ id, name, sets }) => ({
      id,
      name: name === null ? id : `${id} ${name}`,
      works: list(Object.keys(sets)),
      lie: words.press,
    }));
  const way = waysOf(view).get(picked.index);
  return (
    <section className="route-card" aria-hidden="true">
      <p>{words.cardRevision(view.name, view.revision)}</p>
      <h2>
        {words.cardHead(from, to)}
        {way === undefined ? null : <span> {words.wayBy(way.via, way.number)}</span>}
      </h2>
      <table>
        <thead>
          <tr>
            {words.cardColumns.map((column) => (
              <th key={column}>{column}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {[...rows, ...presses].map(({ id, name, works, lie }, i) => (
            <tr key={id}>
              <td>{i + 1}</td>
              <td>{name}</td>
              <td>{works}</td>
              <td className="lie">{lie}</td>
              <td className="box" />
            </tr>
          ))}
        </tbody>
      </table>
      <p>{words.cardFoot}</p>
    </section>
  );
}
