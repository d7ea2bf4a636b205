/** The page about how the co-op works. */
export const coopPath = (): string => '/coop'
