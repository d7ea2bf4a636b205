/** What the co-op's data is, how old the last backup is, and taking it out. */
export const dataPath = (): string => '/coop/data'
export const everythingPath = (): string => '/coop/data/everything.json'
export const tablesPath = (): string => '/coop/data/tables.zip'
/** Deletes the co-op. */
export const coopRemovalPath = (): string => '/coop/data/removal'
/** Deletes the personal data of somebody who left. */
export const erasurePath = (id: string): string => `/coop/data/former-members/${id}`
/** What is known of whoever asks. */
export const ownDataPath = (): string => '/account/data'
export const ownEverythingPath = (): string => '/account/data/everything.json'
