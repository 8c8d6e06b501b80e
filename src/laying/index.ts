export {
  type Alignment,
  alignThings,
  boxOfThings,
  mirrorThings,
  moveStrips,
  moveThings,
  spaceThings,
  turnedAbout,
  turnThings,
} from './arrange.ts';
export {
  type Clip,
  copyThings,
  type Dropped,
  duplicateThings,
  middleOfClip,
  type Pasted,
  pasteClip,
  readClip,
} from './clip.ts';
export { type Called, type Described, describeFace, type Leads, type StripEndFacts } from './describe.ts';
export { type Draft, laidBy } from './edits.ts';
export { type Gesture, layCrossover, layLadder, layLead, layLoop, laySlip, type Side } from './formations.ts';
export { distance, footOnPath, type PathFoot, spotAlongPath } from './geometry.ts';
export {
  arrangeLevers,
  type JoinAsked,
  joinUnder,
  ownLever,
  partLever,
  putUnder,
  takeOffLevers,
} from './lever-points.ts';
export {
  actionOf,
  type SwitchWanted,
  setSwitch,
  sizeOf,
  switchLike,
  TOGGLE_SIZES,
  type ToggleSize,
} from './lever-switches.ts';
export { type Lifted, liftStrips } from './lift-strips.ts';
export {
  type Apart,
  angleAtJoin,
  angleAtPoint,
  cornerLength,
  cutLength,
  distanceBetween,
  lengthOfStrip,
  type Meeting,
  meetingAt,
} from './measure.ts';
export { lampsOn, type OnStrip, stripAt } from './on-strips.ts';
export { type Hit, type HitKind, type PickIndex, type PickMarks, pickAt, pickIndex } from './pick.ts';
export { PICK_LISTS, type Picked, type PickList, type Selection, type ThingOf } from './picked.ts';
export { setDrive } from './point-drives.ts';
export { bareSheet, putCornerFixings, putTitle, setFace, setPanelName, titleOf } from './sheet.ts';
export { claimAt, showsAt, showsOf } from './shows.ts';
export {
  type Guide,
  SNAP_KINDS,
  type SnapCandidate,
  type SnapKind,
  type SnapOptions,
  type Snapped,
  snap,
} from './snap.ts';
export { type SnapContext, type SnapSegment, type SnapSpot, snapContext } from './snap-index.ts';
export { handlesOf, type SnappedMove, snapMove } from './snap-move.ts';
export { lampsThatFit, type Strewing, strewAlong, strewLegs, strewSpan } from './strew-lamps.ts';
export {
  addBend,
  type Carrying,
  drawOn,
  joinStripEnds,
  layStrip,
  moveCorner,
  reorderStrips,
  type StripLook,
  setStrip,
  splitStripAt,
  takeOutBend,
  turnRound,
} from './strips.ts';
export { lengthOfStrokes } from './strokes.ts';
export { swapLies } from './swap-lies.ts';
export { removeThings } from './take-out.ts';
export {
  NOUNS,
  namePlace,
  putButton,
  putFixing,
  putKeepOut,
  putLamp,
  putLever,
  putMissingLevers,
  putPlate,
  putPlatform,
  setThing,
} from './things.ts';
export { GRID } from './tolerances.ts';
export { putTrains, type TrainsPut } from './trains.ts';
