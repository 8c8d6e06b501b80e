import { type ReactNode, useState } from 'react';
import type { Picked } from '../../laying/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import { helped } from '../help/switch.ts';
import { ChevronDown, Cross } from '../icons.tsx';
import { useMedia } from '../use-app.ts';
import type { HelpKey } from '../words/help.ts';
import { layWords } from '../words/lay.ts';
import { ButtonInspector } from './inspect/button.tsx';
import { FixingInspector, KeepOutInspector, RelayInspector } from './inspect/hole.tsx';
import { LampInspector } from './inspect/lamp.tsx';
import { LeverInspector } from './inspect/lever.tsx';
import { ManyInspector } from './inspect/many.tsx';
import { PlaceInspector } from './inspect/place.tsx';
import { PlateInspector } from './inspect/plate.tsx';
import { PlatformInspector } from './inspect/platform.tsx';
import { StripInspector } from './inspect/strip.tsx';
import { WholeInspector } from './inspect/whole.tsx';
import { KeepButton } from './keep-line.tsx';
import { thingHead } from './thing-names.ts';
import { useFollows, useLay } from './use-lay.ts';

/** A window so low keeps its height for the sheet, as in lay.css. */
const LOW = '(max-height: 56em)';

/** At the right: what is picked, in figures that can be typed; with nothing picked, the panel itself. */
export function Inspector() {
  const panel = useLay((lay) => lay.laid);
  const picked = useLay((lay) => lay.picked);
  const pick = useLay((lay) => lay.pick);
  // Under the sheet it folds, and stays as it is whatever is picked: the sheet shall not move under a hand that picks.
  const low = useMedia(LOW);
  const [chosen, setChosen] = useState<boolean | null>(null);
  const open = chosen ?? !low;
  const { head, key, help, body } = inspected(panel, picked);
  const follows = useFollows();
  const foldWord = open ? layWords.foldSide : layWords.unfoldSide;
  return (
    <aside className={open ? 'lay-side' : 'lay-side shut'} aria-label={head} {...helped(help)}>
      <div className="side-head">
        <div className="row">
          <h2>{head}</h2>
          <button
            type="button"
            className={open ? 'ibtn fold side-fold' : 'ibtn fold side-fold folded'}
            aria-label={foldWord}
            title={foldWord}
            aria-expanded={open}
            onClick={() => setChosen(!open)}
          >
            <ChevronDown />
          </button>
          {picked.length === 0 ? null : (
            <button
              type="button"
              className="ibtn"
              aria-label={layWords.close}
              title={layWords.close}
              onClick={() => pick([])}
            >
              <Cross />
            </button>
          )}
        </div>
      </div>
      {follows ? (
        // Nothing else here answers to a hand then: what makes it answer stands beside it.
        <div className="side-name">
          <KeepButton deed="take-over" />
        </div>
      ) : null}
      {follows ? (
        <fieldset key={key} className="side-body" disabled>
          {body}
        </fieldset>
      ) : (
        <div key={key} className="side-body">
          {body}
        </div>
      )}
    </aside>
  );
}

interface Inspected {
  readonly head: string;
  /** Fields begin anew with another thing. */
  readonly key: string;
  readonly help: HelpKey;
  readonly body: ReactNode;
}

function inspected(panel: PanelFile, picked: readonly Picked[]): Inspected {
  const things = new Set(picked.map(({ list, id }) => `${list} ${id}`));
  const [one] = picked;
  if (things.size > 1)
    return {
      head: layWords.manyPicked(things.size),
      key: 'many',
      help: 'many',
      body: <ManyInspector picked={picked} />,
    };
  const body = one === undefined ? null : bodyOf(panel, one);
  if (one === undefined || body === null)
    return { head: layWords.panel, key: 'panel', help: 'sec.panel', body: <WholeInspector /> };
  return { head: thingHead(panel, one), key: `${one.list} ${one.id}`, help: `thing.${one.list}`, body };
}

/** The fields of one thing; null where it is not there, as after an undo. */
function bodyOf(panel: PanelFile, { list, id }: Picked): ReactNode {
  const byId = <T extends { readonly id: string }>(records: readonly T[] | undefined): T | undefined =>
    records?.find((record) => record.id === id);
  const at = <T,>(records: readonly T[] | undefined): T | undefined =>
    typeof id === 'number' ? records?.[id] : undefined;
  const index = typeof id === 'number' ? id : 0;
  switch (list) {
    case 'strips': {
      const strip = byId(panel.strips);
      return strip === undefined ? null : <StripInspector strip={strip} />;
    }
    case 'places': {
      const place = byId(panel.places);
      return place === undefined ? null : <PlaceInspector place={place} />;
    }
    case 'lamps': {
      const lamp = byId(panel.lamps);
      return lamp === undefined ? null : <LampInspector lamp={lamp} />;
    }
    case 'levers': {
      const record = byId(panel.levers);
      if (record === undefined && panel.levers !== undefined) return null;
      return <LeverInspector id={String(id)} record={record} />;
    }
    case 'buttons': {
      const button = byId(panel.buttons);
      return button === undefined ? null : <ButtonInspector button={button} />;
    }
    case 'relays': {
      const relay = byId(panel.relays);
      return relay === undefined ? null : <RelayInspector relay={relay} />;
    }
    case 'plates': {
      const plate = at(panel.plates);
      return plate === undefined ? null : <PlateInspector plate={plate} index={index} />;
    }
    case 'platforms': {
      const platform = at(panel.platforms);
      return platform === undefined ? null : <PlatformInspector platform={platform} index={index} />;
    }
    case 'fixings': {
      const fixing = at(panel.face?.fixings);
      return fixing === undefined ? null : <FixingInspector fixing={fixing} index={index} />;
    }
    case 'keepOut': {
      const keepOut = at(panel.face?.keepOut);
      return keepOut === undefined ? null : <KeepOutInspector keepOut={keepOut} index={index} />;
    }
  }
}
