/** The kitchen screens, and where a code for a new one is made. */
export const screensPath = (): string => '/coop/screens'
/** A code that was just made, for whoever walks to the tablet with it. */
export const screenCodePath = (id: string): string => `/coop/screens/codes/${id}`
export const screenRemovalPath = (id: string): string => `/coop/screens/${id}/removal`
/** Where the code is typed, on the tablet. */
export const pairPath = (): string => '/pair'
