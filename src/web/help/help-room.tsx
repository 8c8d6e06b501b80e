import { useEffect, useState } from 'react';
import { useAppStore } from '../use-app.ts';
import type * as Parts from './help.tsx';
import { useHelp, useHelpKey } from './switch.ts';

/** Where the line of help stands while it is on; what it says is fetched then. */
export function HelpRoom() {
  const app = useAppStore();
  const on = useHelp();
  const [parts, setParts] = useState<typeof Parts | null>(null);
  useHelpKey();
  useEffect(() => {
    if (!on || parts !== null) return;
    import('./help.tsx')
      .then(setParts)
      .catch((error: unknown) => app.getState().refuse({ file: '', problems: [], fault: String(error) }));
  }, [on, parts, app]);
  return on && parts !== null ? <parts.HelpLine /> : null;
}
