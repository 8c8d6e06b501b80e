/** Signs of the Lay stage; never without their word. */
import type { ReactNode } from 'react';
import { Icon } from '../icons.tsx';
import type { ToolName } from './tools/types.ts';

const TOOL_SIGNS: Readonly<Record<ToolName, ReactNode>> = {
  pick: <path d="M6 3.5 18 12l-5.3 1.2L15.5 19l-2.6 1.2-2.7-5.8L6.5 18z" />,
  strip: (
    <>
      <circle cx="7.5" cy="8.5" r="4.7" />
      <circle cx="7.5" cy="8.5" r="1.5" />
      <path d="M10.2 12.4 20.5 20.5M12 8.5l10 8" />
    </>
  ),
  platform: (
    <>
      <path d="M3 6.5h18M3 17.5h18" />
      <rect x="6" y="9.6" width="12" height="4.8" rx=".8" />
    </>
  ),
  place: (
    <>
      <rect x="3" y="7" width="18" height="10" rx="1.6" />
      <path d="M7 12h10" />
    </>
  ),
  plate: (
    <>
      <rect x="2.5" y="6.5" width="19" height="11" rx="1.6" />
      <path d="M9 10h6M12 10v5M5.2 12h.01M18.8 12h.01" />
    </>
  ),
  button: (
    <>
      <circle cx="12" cy="12" r="8" />
      <circle cx="12" cy="12" r="3.6" />
    </>
  ),
  fixing: (
    <>
      <circle cx="12" cy="12" r="6.5" />
      <path d="m8.5 15.5 7-7" />
    </>
  ),
  'keep-out': (
    <>
      <rect x="4" y="5" width="16" height="14" rx="1" strokeDasharray="3 2.4" />
      <path d="m9 9 6 6M15 9l-6 6" />
    </>
  ),
  lever: (
    <>
      <circle cx="12" cy="15" r="5.2" />
      <path d="M10.6 14.2 9.9 5.6a2.1 2.1 0 0 1 4.2 0l-.7 8.6" />
    </>
  ),
  lamp: (
    <>
      <circle cx="12" cy="12" r="4.2" />
      <path d="M12 3v2.2M12 18.8V21M3 12h2.2M18.8 12H21M5.7 5.7l1.5 1.5M16.8 16.8l1.5 1.5M18.3 5.7l-1.5 1.5M7.2 16.8l-1.5 1.5" />
    </>
  ),
  measure: (
    <>
      <path d="M3.5 15.5 15.5 3.5l5 5-12 12z" />
      <path d="m7 12 2 2M10 9l3 3M13 6l2 2" />
    </>
  ),
};

export const ToolSign = ({ tool }: { readonly tool: ToolName }) => <Icon>{TOOL_SIGNS[tool]}</Icon>;

export const Magnet = () => (
  <Icon>
    <path d="M4.5 5v7.5a7.5 7.5 0 0 0 15 0V5h-4.6v7.5a2.9 2.9 0 0 1-5.8 0V5zM4.5 9.2h4.6M14.9 9.2h4.6" />
  </Icon>
);
export const Split = () => (
  <Icon>
    <path d="M3 12h6M15 12h6M12 5v3M12 10.5v3M12 16v3" />
  </Icon>
);
export const Bend = () => (
  <Icon>
    <path d="M3 17h4.2M10.1 15.4 13.9 9.6M16.8 8H21" />
    <circle cx="9" cy="17" r="1.8" />
    <circle cx="15" cy="8" r="1.8" />
  </Icon>
);
export const SwapLegs = () => (
  <Icon>
    <path d="M12 3v18M8.5 7 4 17h4.5zM15.5 7 20 17h-4.5z" />
  </Icon>
);
export const Lift = () => (
  <Icon>
    <path d="M4.5 7h15M9.5 7V4.5h5V7M6.5 7l1 13h9l1-13" />
  </Icon>
);
export const Copy = () => (
  <Icon>
    <rect x="8.5" y="8.5" width="12" height="12" rx="1.6" />
    <path d="M15.5 8.5v-3A1.5 1.5 0 0 0 14 4H5.5A1.5 1.5 0 0 0 4 5.5V14a1.5 1.5 0 0 0 1.5 1.5h3" />
  </Icon>
);
