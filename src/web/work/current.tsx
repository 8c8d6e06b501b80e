/** What switching on draws, and what contacts each drive has and owes. */
import { helped } from '../help/switch.ts';
import { SeverityMark } from '../icons.tsx';
import { workWords } from '../words/work.ts';
import { useWork } from './use-work.ts';

export function Current() {
  const current = useWork((work) => work.current);
  if (current === null || current.contacts.length === 0) return null;
  const { supplies, moves, contacts } = current;
  const has = contacts.reduce((sum, each) => sum + each.has, 0);
  const used = contacts.reduce((sum, each) => sum + Math.max(0, each.has - Math.max(0, each.left)), 0);
  const over = contacts.filter(({ left }) => left < 0);
  return (
    <section className="current" {...helped('work.current')}>
      <h3>
        {workWords.current}
        <span>{workWords.moves(moves)}</span>
      </h3>
      {supplies.map(({ id, name, amps, steady, rating }) => (
        <p key={id} className="current-row">
          {amps > rating ? <SeverityMark severity="wrong" count={1} /> : null}
          <b>{workWords.draws(name, amps, rating)}</b>
          {amps > rating ? workWords.tooMuch : ''}
          {workWords.steady(steady, amps)}
        </p>
      ))}
      <h3>
        {workWords.contacts}
        <span>{workWords.contactsOf(used, has)}</span>
      </h3>
      {over.length === 0 ? <p className="current-row">{workWords.allWithin}</p> : null}
      {over.map(({ drive, left }) => (
        <p key={drive} className="current-row wrong">
          <SeverityMark severity="wrong" count={1} />
          <b>{workWords.overdrawn(drive, left)}</b>
        </p>
      ))}
      <details>
        <summary>{workWords.eachDrive}</summary>
        <table className="contacts">
          <thead>
            <tr>
              <th scope="col">{workWords.driveHead}</th>
              <th scope="col">{workWords.hasHead}</th>
              <th scope="col">{workWords.frogsHead}</th>
              <th scope="col">{workWords.lampsHead}</th>
              <th scope="col">{workWords.otherHead}</th>
              <th scope="col">{workWords.leftHead}</th>
            </tr>
          </thead>
          <tbody>
            {contacts.map((each) => (
              <tr key={each.drive} className={each.left < 0 ? 'wrong' : undefined}>
                <th scope="row">{each.drive}</th>
                <td>{each.has}</td>
                <td>{each.frogs}</td>
                <td>{each.lamps}</td>
                <td>{each.other}</td>
                <td>{each.left}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </section>
  );
}
