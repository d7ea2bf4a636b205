/** What is there. */
export const shelfPath = (): string => '/shelf'
/** What to eat first, what runs low, jars owed back. */
export const shelfFirstPath = (): string => '/shelf/first'
/** Everything of one product: its batches, where they stand, its history. */
export const shelfProductPath = (recipeId: string, pack: string): string => `/shelf/products/${recipeId}/${pack}`
/** Jars of one batch in one place: take, move, give, break, count. */
export const jarBatchPath = (id: string): string => `/shelf/jars/${id}`
/** Where entries of these jars are sent: `does` is take, give, break, move or count. */
export const jarEntryPath = (id: string, does: string): string => `/shelf/jars/${id}/${does}`
/** Takes an entry back. */
export const undoEntryPath = (entryId: string): string => `/shelf/entries/${entryId}/undo`
/** The ledger, newest first; of one household where one is named. */
export const ledgerPath = (householdId?: string): string =>
  `/shelf/ledger${householdId === undefined ? '' : `?household=${householdId}`}`
/** A stock-take of one place. */
export const stockTakePath = (placeId: string): string => `/shelf/places/${placeId}/count`
export const placesPath = (): string => '/shelf/places'
export const newPlacePath = (): string => '/shelf/places/new'
export const placePath = (id: string): string => `/shelf/places/${id}`
/** Empty jars: who owes how many, and where they are given back. */
export const emptiesPath = (): string => '/shelf/empties'
/** What a label's QR code leads to: short, by the batch's code. */
export const jarCodePath = (code: string): string => `/j/${code}`
/** Where a place is closed, or opened again. */
export const placeClosingPath = (id: string): string => `/shelf/places/${id}/closing`
/** Where it is written that packs of a supply were bought. */
export const buySupplyPath = (supplyId: string): string => `/shelf/supplies/${supplyId}/buy`
