/**
 * Where the eye stands over the face: so many px to the millimetre, and the spot of the face at the top left corner of the view.
 * Pure: a camera in, a camera out. Screen px from the view's corner, x to the right and y down; the face in millimetres likewise.
 */
import type { Millimetre, Spot } from '../../units/index.ts';

export interface Camera {
  readonly pxPerMm: number;
  /** The face's millimetres at the corner of the view. */
  readonly at: Spot;
}

/** A size in px or in mm. */
export interface Extent {
  readonly width: number;
  readonly height: number;
}

/** px to the millimetre of a screen of 96 px to the inch, as a browser promises where nobody has measured: CSS Values 4, 6.2. */
export const CSS_PX_PER_MM = 96 / 25.4;

/** From a whole wall of track to the edge of one hole. */
const LEAST_PX_PER_MM = 0.2;
const MOST_PX_PER_MM = 60;

/** Bench that stays in sight beside the face, so that it never gets lost: px. */
const KEPT_IN_SIGHT = 80;

const held = (pxPerMm: number): number => Math.min(MOST_PX_PER_MM, Math.max(LEAST_PX_PER_MM, pxPerMm));

/** The spot of the face under a place of the view. */
export function toFace({ pxPerMm, at }: Camera, [x, y]: Spot): Spot {
  return [at[0] + x / pxPerMm, at[1] + y / pxPerMm];
}

/** The place of the view over a spot of the face. */
export function toView({ pxPerMm, at }: Camera, [x, y]: Spot): Spot {
  return [(x - at[0]) * pxPerMm, (y - at[1]) * pxPerMm];
}

/** Bench around a face that is fitted, and room below it for what floats there: px. */
export const ROOM = { around: 20, below: 76 };

/** The whole face in the view, as large as it fits beside what floats over its lower edge. */
export function fitted(face: Extent, view: Extent, { around, below } = ROOM): Camera {
  const room = { width: view.width, height: Math.max(1, view.height - below + around) };
  const across = Math.max(1, room.width - 2 * around) / face.width;
  const down = Math.max(1, room.height - 2 * around) / face.height;
  const pxPerMm = held(Math.min(across, down));
  const { at } = centred(face, room, pxPerMm);
  // Under the rulers the sheet hangs from the top, as paper on a board does.
  return { pxPerMm, at: [at[0], -around / pxPerMm] };
}

/** The face in the middle of the view at a scale. */
export function centred(face: Extent, view: Extent, pxPerMm: number): Camera {
  return {
    pxPerMm,
    at: [(face.width - view.width / pxPerMm) / 2, (face.height - view.height / pxPerMm) / 2],
  };
}

/** Nearer or farther by a factor; what is under `about` (px in the view) stays there. */
export function zoomed(camera: Camera, about: Spot, factor: number): Camera {
  const pxPerMm = held(camera.pxPerMm * factor);
  const [x, y] = toFace(camera, about);
  return { pxPerMm, at: [x - about[0] / pxPerMm, y - about[1] / pxPerMm] };
}

/** Moved with a hand that drags the sheet by so many px. */
export function panned({ pxPerMm, at }: Camera, [dx, dy]: Spot): Camera {
  return { pxPerMm, at: [at[0] - dx / pxPerMm, at[1] - dy / pxPerMm] };
}

/** Two fingers: what was under each stays under it, as far as one scale for both directions allows. */
export function pinched(camera: Camera, from: readonly [Spot, Spot], to: readonly [Spot, Spot]): Camera {
  const apart = ([p, q]: readonly [Spot, Spot]): number => Math.max(1, Math.hypot(p[0] - q[0], p[1] - q[1]));
  const middle = ([p, q]: readonly [Spot, Spot]): Spot => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
  const [m, n] = [middle(from), middle(to)];
  return panned(zoomed(camera, m, apart(to) / apart(from)), [n[0] - m[0], n[1] - m[1]]);
}

/** The same, moved no farther than leaves a piece of the face in sight. */
export function kept(camera: Camera, face: Extent, view: Extent): Camera {
  const { pxPerMm, at } = camera;
  const within = (value: number, of: number, side: number): number => {
    const edge = Math.min(KEPT_IN_SIGHT, of * pxPerMm) / pxPerMm;
    return Math.min(of - edge, Math.max(edge - side / pxPerMm, value));
  };
  return { pxPerMm, at: [within(at[0], face.width, view.width), within(at[1], face.height, view.height)] };
}

/** The nearest camera that shows a spot, `margin` px from the edges of the view at least. */
export function showing(camera: Camera, spot: Spot, view: Extent, margin = 80): Camera {
  const [x, y] = toView(camera, spot);
  const into = (value: number, side: number): number => {
    const room = Math.min(margin, side / 2);
    return value < room ? room - value : value > side - room ? side - room - value : 0;
  };
  return panned(camera, [into(x, view.width), into(y, view.height)]);
}

/** How large the face is drawn, as a share of true size on a screen of so many px to the millimetre. */
export function shareOfTrue({ pxPerMm }: Camera, screenPxPerMm: number): number {
  return pxPerMm / screenPxPerMm;
}

/** The steps that the zoom buttons take, as shares of true size. */
const STEPS = [0.1, 0.15, 0.25, 0.33, 0.5, 0.67, 0.75, 1, 1.25, 1.5, 2, 3, 4, 6, 8, 12];

/** The next step up (1) or down (-1) from where the camera stands, about the middle of the view. */
export function stepped(camera: Camera, way: 1 | -1, view: Extent, screenPxPerMm: number): Camera {
  const share = shareOfTrue(camera, screenPxPerMm);
  const past = (step: number): boolean => (way === 1 ? step > share * 1.01 : step < share / 1.01);
  const step = (way === 1 ? STEPS : [...STEPS].reverse()).find(past) ?? share;
  return zoomed(camera, [view.width / 2, view.height / 2], step / share);
}

/** Reach of a pointer on the face: px on the screen as millimetres. */
export function reachOf({ pxPerMm }: Camera, px: number): Millimetre {
  return px / pxPerMm;
}
