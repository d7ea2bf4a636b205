/** Addresses that calendar programs read, and whose they are. */
export const calendarsPath = (): string => '/calendars'
/** The page of one, with its secret address directly after it was made. */
export const calendarPath = (id: string): string => `/calendars/${id}`
export const calendarRemovalPath = (id: string): string => `/calendars/${id}/removal`
/** What a calendar program reads. Whoever knows the secret reads it. */
export const feedPath = (secret: string): string => `/calendar/${secret}`
