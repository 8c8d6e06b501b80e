/** The hand: hands what it does to the tool that it holds, and does what that tool answers. */
import type { ToolEvent } from './types.ts';

export interface Hand {
  on(event: ToolEvent): void;
}
