import type { Drafting, TypedField } from '../state/drawing/drafting.svelte';

/** What keys do besides the drafting itself. */
export interface DraftKeysPort {
  /** Whether an element is a field of the field book. */
  isField(target: EventTarget | null): target is HTMLInputElement;
  focus(field: TypedField): void;
  /** The next flag on the tape, or the one before. */
  toFlag(step: 1 | -1): void;
}

/**
 * Does what a key asks while a feature is drawn corner by corner. Figures go to the fields wherever the focus is;
 * letters that are commands do not while something is being typed. Returns whether the key was meant for it.
 */
export function draftKey(event: KeyboardEvent, drafting: Drafting, port: DraftKeysPort): boolean {
  const { target, key } = event;
  const field = port.isField(target) ? target : null;
  if (field === null && !isFree(target)) return false;
  const isEmpty = field === null || field.value === '';
  if (event.ctrlKey || event.metaKey) return isEmpty && step(event, drafting);
  if (event.altKey) return false;
  if (key === 'Escape') {
    drafting.stepOut();
    return true;
  }
  if (key === '<' || key === '@') {
    port.focus(key === '<' ? 'turn' : 'bearing');
    return true;
  }
  if (key === 'Backspace' && isEmpty) return drafting.takeBack();
  if (field !== null) return keyInField(event, field, drafting, port);
  if (/^[\d.]$/.test(key)) {
    // The figure itself goes to the field that has the focus by then.
    port.focus(drafting.way === 'tapes' || drafting.way === 'along' ? 'first' : 'length');
    return false;
  }
  // A button that has the focus is pressed by these.
  if (target instanceof HTMLButtonElement && (key === 'Enter' || key === ' ')) return false;
  return command(key, drafting);
}

/** Steps back and forth are corners while there are any. */
function step(event: KeyboardEvent, drafting: Drafting): boolean {
  const key = event.key.toLowerCase();
  if (key === 'z' && !event.shiftKey) return drafting.takeBack();
  if (key === 'y' || key === 'z') return drafting.putBack();
  return false;
}

function keyInField(
  { key }: KeyboardEvent,
  field: HTMLInputElement,
  drafting: Drafting,
  port: DraftKeysPort,
): boolean {
  if (key === 'Enter') {
    if (field.name === 'first' && drafting.typed.second === '') port.focus('second');
    else enter(drafting);
    return true;
  }
  if (field.name === 'length' && (key === 'ArrowDown' || key === 'ArrowUp')) {
    port.toFlag(key === 'ArrowDown' ? 1 : -1);
    return true;
  }
  // No length begins with a letter, as turns and bearings may.
  const isLength = field.name !== 'turn' && field.name !== 'bearing';
  return isLength && field.value === '' && command(key, drafting);
}

function command(key: string, drafting: Drafting): boolean {
  switch (key) {
    case 'Enter':
      enter(drafting);
      return true;
    case 'q':
    case 'Q':
      drafting.holdSquare(!drafting.isSquare);
      return true;
    case 'r':
    case 'R':
      if (drafting.shape === 'Polygon') drafting.measureBy('rectangle');
      return true;
    case 't':
    case 'T':
      drafting.measureBy('tapes');
      return true;
    case 'o':
    case 'O':
      drafting.measureBy('along');
      return true;
    case 'c':
    case 'C':
      drafting.finishSquare();
      return true;
    case ' ':
      drafting.turnOver();
      return true;
    default:
      return false;
  }
}

/** Sets what is typed or led to by keys; with nothing of that, ends the drawing. */
function enter(drafting: Drafting): void {
  const isTyped = Object.values(drafting.typed).some((text) => text !== '');
  if (isTyped || drafting.isLedByKeys) drafting.set();
  else drafting.finish();
}

/** Whether an element has no use of its own for most keys: the map, a button, the page itself. */
function isFree(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLCanvasElement ||
    target instanceof HTMLButtonElement ||
    target === document.body
  );
}
