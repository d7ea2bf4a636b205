/** Who works. */
export const helpersPath = (): string => '/helpers'
export const newHelperPath = (): string => '/helpers/new'
/** The page on which one is changed, with the hours by day. */
export const helperPath = (id: string): string => `/helpers/${id}`
export const helperHoursPath = (id: string): string => `/helpers/${id}/hours`
export const helperRemovalPath = (id: string): string => `/helpers/${id}/removal`
