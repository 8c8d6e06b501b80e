export {
  type Alignment,
  alignThings,
  boxOfThings,
  middleOfThings,
  mirrorThings,
  moveThings,
  spaceThings,
  turnedAbout,
  turnThings,
} from './arrange.ts';
export {
  CLIP_FORMAT,
  CLIP_VERSION,
  type Clip,
  copyThings,
  type Dropped,
  duplicateThings,
  middleOfClip,
  type Pasted,
  pasteClip,
  readClip,
} from './clip.ts';
export { laidBy } from './edits.ts';
export { type Gesture, layCrossover, layLadder, layLead, layLoop, laySlip, type Side } from './formations.ts';
export { type Lifted, liftStrips } from './lift-strips.ts';
export { lampsOn, type OnStrip, stripAt } from './on-strips.ts';
export { PICK_LISTS, type Picked, type PickList, type Selection, type ThingOf } from './picked.ts';
export { showsAt, showsOf } from './shows.ts';
export { lampsThatFit, type Strewing, strewAlong, strewLegs, strewSpan } from './strew-lamps.ts';
export {
  addBend,
  type Carrying,
  drawOn,
  joinStripEnds,
  layStrip,
  lookOfNext,
  moveCorner,
  moveStrips,
  reorderStrips,
  type StripLook,
  setStrip,
  splitStripAt,
  takeOutBend,
  turnRound,
} from './strips.ts';
export { swapLies } from './swap-lies.ts';
export { removeThings } from './take-out.ts';
export {
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
