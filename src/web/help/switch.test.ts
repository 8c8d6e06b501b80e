import { describe, expect, it } from 'vitest';
import { isHelpKey, isHelpOn, switchHelp } from './switch.ts';

const pressed = (key: string, more: { readonly ctrlKey?: boolean; readonly target?: EventTarget } = {}) => ({
  key,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  target: null,
  ...more,
});

describe('the switch of help', () => {
  it('hears F1 always, and a question mark while keys of one letter are on', () => {
    expect(isHelpKey(pressed('F1'), false)).toBe(true);
    expect(isHelpKey(pressed('?'), true)).toBe(true);
    expect(isHelpKey(pressed('?'), false)).toBe(false);
    expect(isHelpKey(pressed('?', { ctrlKey: true }), true)).toBe(false);
    expect(isHelpKey(pressed('h'), true)).toBe(false);
  });
  it('turns on and off', () => {
    switchHelp();
    expect(isHelpOn()).toBe(true);
    switchHelp(true);
    expect(isHelpOn()).toBe(true);
    switchHelp();
    expect(isHelpOn()).toBe(false);
  });
});
