/** The page about how the co-op works. */
export const coopPath = (): string => '/coop'
/** Its name, its place and its units. */
export const coopSettingsPath = (): string => '/coop/settings'
/** The units in which whoever is asking reads figures. */
export const ownUnitsPath = (): string => '/coop/my-units'
