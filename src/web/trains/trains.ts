/** Trains in Run, fetched when somebody asks for them. */
export { SheetPrint } from './sheet-print.tsx';
export { TrainLayer } from './train-layer.tsx';
export { TrainsSide } from './trains-side.tsx';
export { makeTrainsStore, type TrainsStore } from './trains-store.ts';
