import type { OutlineForm } from '../../../lib/siting/sizing/basin-outline';

/** The usual forms of a basin as in 'make the basin …'. */
export const formWords: Readonly<Record<OutlineForm, string>> = {
  round: 'round',
  oval: 'an oval',
  kidney: 'a kidney',
  teardrop: 'a teardrop',
};

/** In the order in which they are offered. */
export const forms = Object.keys(formWords) as readonly OutlineForm[];
