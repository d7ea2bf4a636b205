/** Jars, lids, sugar: what is on hand. */
export const suppliesPath = (): string => '/supplies'
export const newSupplyPath = (): string => '/supplies/new'
/** Takes what was counted, for all supplies at once. */
export const supplyCountsPath = (): string => '/supplies/counts'
/** The page on which one is changed. */
export const supplyPath = (id: string): string => `/supplies/${id}`
export const supplyRemovalPath = (id: string): string => `/supplies/${id}/removal`
