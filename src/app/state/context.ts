import { createContext } from 'svelte';
import type { Analysis } from './answers/analysis.svelte';
import type { Certainty } from './answers/certainty.svelte';
import type { Changing } from './drawing/changing';
import type { Drafting } from './drawing/drafting.svelte';
import type { PlanStore } from './plan/plan-store.svelte';
import type { Session } from './session/session.svelte';
import type { Steps } from './guide/steps.svelte';

/** The three stores, by lifetime: the plan is saved and undone, the session is neither, results are recomputed. */
export const [getPlanStore, setPlanStore] = createContext<PlanStore>();
export const [getSession, setSession] = createContext<Session>();
export const [getChanging, setChanging] = createContext<Changing>();
export const [getDrafting, setDrafting] = createContext<Drafting>();
export const [getAnalysis, setAnalysis] = createContext<Analysis>();
export const [getCertainty, setCertainty] = createContext<Certainty>();
export const [getSteps, setSteps] = createContext<Steps>();
