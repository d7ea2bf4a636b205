/** One's own tokens, by which programs call as oneself. */
export const tokensPath = (): string => '/account/tokens'
/** One of them, with its secret directly after it was made. */
export const tokenPath = (id: string): string => `/account/tokens/${id}`
export const tokenRemovalPath = (id: string): string => `/account/tokens/${id}/removal`
