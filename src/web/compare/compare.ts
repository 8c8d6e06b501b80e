/** Comparing the panel with the same panel made otherwise, fetched when somebody asks for it. */
export { CompareDialog } from './compare-dialog.tsx';
