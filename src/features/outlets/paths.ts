/** Where trim and leftovers go. */
export const outletsPath = (): string => '/outlets'
export const newOutletPath = (): string => '/outlets/new'
/** The page on which one is changed. */
export const outletPath = (id: string): string => `/outlets/${id}`
/** Moves an outlet one place up or down. */
export const outletRankPath = (id: string): string => `/outlets/${id}/rank`
export const outletRemovalPath = (id: string): string => `/outlets/${id}/removal`
