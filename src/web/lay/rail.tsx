import { useState } from 'react';
import { GRID } from '../../laying/index.ts';
import { helped } from '../help/switch.ts';
import { goAlong } from '../parts/go-along.ts';
import { lengthIn } from '../words/figures.ts';
import { layWords, tools } from '../words/lay.ts';
import { Magnet, ToolSign } from './lay-icons.tsx';
import { LAYING } from './lay-store.ts';
import { useFollows, useLay } from './use-lay.ts';

/** The tools: one tab stop, arrow keys between them. */
export function Rail() {
  const tool = useLay((lay) => lay.tool);
  const take = useLay((lay) => lay.take);
  const singleKeys = useLay((lay) => lay.singleKeys);
  const snapping = useLay((lay) => lay.snapping);
  const snap = useLay((lay) => lay.snap);
  const unit = useLay((lay) => lay.unit);
  const follows = useFollows();
  // The one that Tab comes to: where the focus was last, else the tool in the hand.
  const [at, setAt] = useState<number | null>(null);
  const held = tools.findIndex((each) => each.tool === tool);
  const stop = at ?? held;
  return (
    <div
      className="rail"
      role="toolbar"
      aria-label={layWords.tools}
      aria-orientation="vertical"
      onKeyDown={goAlong}
      onBlur={(event) => {
        if (!event.currentTarget.contains(event.relatedTarget)) setAt(null);
      }}
    >
      {tools.map((each, i) => (
        <button
          key={each.tool}
          {...helped(`tool.${each.tool}`)}
          type="button"
          className="tool"
          tabIndex={i === stop ? 0 : -1}
          aria-pressed={each.tool === tool}
          disabled={follows && LAYING.has(each.tool)}
          aria-keyshortcuts={singleKeys ? each.key : undefined}
          title={singleKeys ? layWords.toolKey(each.word, each.key) : undefined}
          onFocus={() => setAt(i)}
          onClick={() => take(each.tool)}
        >
          <ToolSign tool={each.tool} />
          {each.word}
        </button>
      ))}
      <span className="rail-gap" />
      <button
        {...helped('snap')}
        type="button"
        className="tool snap-tool"
        tabIndex={stop === tools.length ? 0 : -1}
        aria-pressed={snapping}
        title={snapping ? layWords.snapOn(lengthIn(GRID, unit)) : layWords.snapOff}
        onFocus={() => setAt(tools.length)}
        onClick={() => snap(!snapping)}
      >
        <Magnet />
        {layWords.snap}
      </button>
    </div>
  );
}
