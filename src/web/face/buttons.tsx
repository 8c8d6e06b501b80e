import { memo } from 'react';
import type { Face } from '../../face/index.ts';

/** The rim that the shapes below are drawn for. */
const RIM_MM = 11;

/** Push buttons: rim, and the cap that is pressed. */
export const PushButtons = memo(function PushButtons({ buttons }: { readonly buttons: Face['buttons'] }) {
  return buttons.map(({ id, at, rim }) => (
    <g key={id} transform={`translate(${at[0]} ${at[1]}) scale(${rim / RIM_MM})`} data-push={id}>
      <circle r="7" cx=".5" cy="1.3" fill="url(#f-well)" />
      <circle r="5.5" fill="url(#f-nut)" className="metal-line" strokeWidth=".25" />
      <circle r="4.9" fill="none" stroke="#fff" strokeOpacity=".5" strokeWidth=".3" />
      <circle r="3.7" className="push-cap" strokeWidth=".3" />
      <circle r="2.6" fill="none" stroke="#fff" strokeOpacity=".28" strokeWidth=".35" />
    </g>
  ));
});
