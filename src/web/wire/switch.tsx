/** The lever's switch as it is wired: from behind, every tag with its wires. */
import { memo } from 'react';
import { helped } from '../help/switch.ts';
import { wireWords } from '../words/wire.ts';
import type { WireSwitch } from '../worker/wire-types.ts';
import { Insulation } from './colours.tsx';

/** px to the mm of a body. */
const SCALE = 4;

export const SwitchBehind = memo(function SwitchBehind({ lever }: { readonly lever: WireSwitch }) {
  const [wide, tall] = [lever.body[0] * SCALE, lever.body[1] * SCALE];
  return (
    <details className="wire-sec" {...helped('wire.switch')}>
      <summary>
        {wireWords.switch(lever.id)}
        <span>{wireWords.polesUsed(lever.used, lever.poles)}</span>
      </summary>
      <p className="small">{`${lever.name}. ${wireWords.switchHint}`}</p>
      <svg
        className="wire-switch"
        viewBox={`${-wide / 2 - 4} ${-tall / 2 - 4} ${wide + 8} ${tall + 8}`}
        aria-hidden="true"
        focusable="false"
      >
        <rect className="switch-body" x={-wide / 2} y={-tall / 2} width={wide} height={tall} rx="5" />
        {lever.tags.map(({ name, at: [x, y], wires }) => (
          <g
            key={name}
            transform={`translate(${x * SCALE} ${y * SCALE})`}
            className={wires.length === 0 ? 'switch-tag' : 'switch-tag used'}
          >
            <rect x="-13" y="-13" width="26" height="26" rx="2" />
            <text y="4.5" textAnchor="middle">
              {name}
            </text>
          </g>
        ))}
      </svg>
      <table className="wire-tags">
        <tbody>
          {[...lever.tags]
            .sort((a, b) => Number(a.name.slice(1)) - Number(b.name.slice(1)))
            .map(({ name, role, wires }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>{wireWords.role[role]}</td>
                <td>
                  {wires.length === 0
                    ? wireWords.tagNothing
                    : wires.map(({ id, colour, to }) => (
                        <span key={id} className="wire-end">
                          <Insulation colour={colour} />
                          {wireWords.toEnd(id, colour, to)}
                        </span>
                      ))}
                </td>
              </tr>
            ))}
        </tbody>
      </table>
    </details>
  );
});
