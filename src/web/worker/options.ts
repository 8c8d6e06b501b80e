/** The same panel made otherwise, weighed one by one, so that each can be shown as it comes. */
import { derive } from '../../derive.ts';
import { listOptions, type Obstacle, type PanelOption, type WeighedOption, weighOption } from '../../options/index.ts';
import { readPanel } from '../../panel/index.ts';

/** An option with its figures, without what it was worked out from. */
export type ViewOption = Omit<WeighedOption, 'panel' | 'derived' | 'obstacles'> & {
  readonly obstacles: readonly Pick<Obstacle, 'severity' | 'message'>[];
};

export interface OptionsWeigher {
  /** The next option; null after the last. */
  next(): ViewOption | null;
  /** One that came already, with every single fault of it tried. */
  tryFaults(id: string): ViewOption | null;
}

/** A weigher over a panel's text; null where that is no panel. */
export function weighOptions(text: string): OptionsWeigher | null {
  const read = readPanel(text);
  if (!read.ok) return null;
  const present = derive(read.panel);
  const options = listOptions(present);
  const came = new Map<string, PanelOption>();
  const told = (option: PanelOption, allFaults: boolean): ViewOption => {
    const { panel: _panel, derived: _derived, obstacles, ...rest } = weighOption(option, present, { allFaults });
    return { ...rest, obstacles: obstacles.map(({ severity, message }) => ({ severity, message })) };
  };
  return {
    next() {
      const step = options.next();
      if (step.done === true) return null;
      came.set(step.value.id, step.value);
      return told(step.value, false);
    },
    tryFaults(id) {
      const option = came.get(id);
      return option === undefined ? null : told(option, true);
    },
  };
}
