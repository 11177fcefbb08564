import { practice } from '../../source';

/** Where the cautions come from. */
export const cautionsSource = practice;
/** What must be said with every plan; local code and licensed practice come first. Source: `cautionsSource`. */
export const cautions: readonly { readonly topic: string; readonly text: string }[] = [
  {
    topic: 'Buried lines',
    text: 'Ask for the public marking before any digging, by hand too, wait the whole legal notice, keep the ticket and renew it when work runs on. Public marking mostly ends at the meter: power to outbuildings, lights, irrigation, propane and drains are yours to have found. Marks tell the place roughly and no depth; dig by hand near them. Gas smell or a struck line: stop, leave, call the emergency number.',
  },
  {
    topic: 'House',
    text: 'Water must move away from walls. A basin uphill of or close to a basement or crawl space can wet it; take advice first where one is damp.',
  },
  {
    topic: 'Neighbours',
    text: 'Do not send overflow onto a neighbour, a pavement or a septic field; most local rules forbid flow that is increased, diverted or gathered.',
  },
  {
    topic: 'Septic and wells',
    text: 'Keep off tanks, fields and reserve areas and away from wells; the health department has the last word.',
  },
  {
    topic: 'Digging',
    text: 'Trenches deeper than about 1.2 m (4 ft) need shoring rules and somebody who knows them. Share heavy lifting, mind overhead wires, cover holes overnight, keep children from standing water.',
  },
  {
    topic: 'Trees',
    text: 'Cut or buried roots can kill a tree, or bring it down, years later.',
  },
  {
    topic: 'Estimates',
    text: 'All figures are estimates for planning, not a survey and not an engineered design. Permits, easements, wetlands and association rules can all apply; local code governs.',
  },
];
