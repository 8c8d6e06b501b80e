/** The circuit as a list in reading order, from the supply to what it feeds: for who does not see the drawing, and where no rule draws it. */
import { memo } from 'react';
import { ampsText, voltsText, wireWords } from '../words/wire.ts';
import type { WireShown } from '../worker/wire-types.ts';

export const Reading = memo(function Reading({ shown }: { readonly shown: WireShown }) {
  const { model, figures } = shown;
  return (
    <section className="unseen" aria-label={wireWords.reading}>
      <ol>
        {model.symbols.map(({ kind, id, title, note, ends }) => {
          const closed = figures.closed[id];
          const lamp = figures.lamps.find((each) => each.id === id);
          const amps = figures.amps[id];
          return (
            <li key={`${kind} ${id}`}>
              {wireWords.symbolRow(kind, title === '' ? id : title, note, [
                ...ends.map(({ terminal }) => wireWords.endVolts(terminal, figures.volts[terminal])),
                closed === undefined ? '' : wireWords.closedTo(closed),
                lamp === undefined ? '' : wireWords.looks[lamp.look],
                amps === undefined || kind === 'way' || kind === 'contact' ? '' : ampsText(Math.abs(amps)),
              ])}
            </li>
          );
        })}
      </ol>
    </section>
  );
});

/** The wires of a circuit that is not drawn. */
export function WiresTable({ shown }: { readonly shown: WireShown }) {
  const { wire, from, to, colour, volts } = wireWords.wiresTable;
  return (
    <div className="wire-wires">
      <p>{wireWords.notCovered}</p>
      <table>
        <thead>
          <tr>
            {[wire, from, to, colour, volts].map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {shown.wires.map((each) => {
            const at = shown.figures.volts[each.to];
            return (
              <tr key={each.id}>
                <th scope="row">{each.id}</th>
                <td>{each.from}</td>
                <td>{each.to}</td>
                <td>{each.colour}</td>
                <td>{at === undefined || at === null ? '–' : voltsText(at)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
