/** One's own passkeys. */
export const passkeysPath = (): string => '/account/passkeys'
/** Where the browser asks what a new passkey must be like. */
export const passkeyOptionsPath = (): string => '/account/passkeys/options'
export const passkeyRemovalPath = (id: string): string => `/account/passkeys/${id}/removal`
/** Signing in by passkey, and where the browser asks for the challenge of that. */
export const passkeyDoorPath = (): string => '/sign-in/passkey'
export const passkeyDoorOptionsPath = (): string => '/sign-in/passkey/options'
