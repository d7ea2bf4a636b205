import { mayLook } from '../../web/roles.ts'

/** Having tokens of one's own: everybody, since a token never may more than its member. */
export const mayHaveTokens = mayLook
