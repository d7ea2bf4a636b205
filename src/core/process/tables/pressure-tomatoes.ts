import type { ProcessRow } from '../types.ts'

/** Tomatoes and tomato sauces under pressure. */
export const pressureTomatoes: readonly ProcessRow[] = []
