/** What there is, in the order in which it spoils; a new lot is sent here. */
export const lotsPath = (): string => '/lots'
/** The form for a new lot; one typed line sent here fills it in. */
export const newLotPath = (): string => '/lots/new'
/** Lots of which nothing is left to plan with. */
export const closedLotsPath = (): string => '/lots/closed'
/** One lot: what it is today, its forecast, its history. */
export const lotPath = (id: string): string => `/lots/${id}`
export const lotChangePath = (id: string): string => `/lots/${id}/change`
/** Where a lot is moved to another storage. */
export const lotStoragePath = (id: string): string => `/lots/${id}/storage`
export const lotSortingsPath = (id: string): string => `/lots/${id}/sortings`
export const newSortingPath = (id: string): string => `/lots/${id}/sortings/new`
/** Where the last sorting is taken back. */
export const sortingReversalPath = (id: string): string => `/lots/${id}/sortings/reversal`
export const lotClosurePath = (id: string): string => `/lots/${id}/closure`
export const lotReopeningPath = (id: string): string => `/lots/${id}/reopening`
