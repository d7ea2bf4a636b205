import { mayLook } from '../../web/roles.ts'

/** Having passkeys of one's own: everybody who has an account. */
export const mayHavePasskeys = mayLook
