import { z } from 'zod'
import { choice, neededText } from '../../web/forms.ts'

export const scopes = ['read', 'write'] as const
export type Scope = (typeof scopes)[number]

/** How long a token may live, in days. None lives for ever: what is forgotten ends by itself. */
export const lifetimesInDays = ['7', '30', '90', '365'] as const

export const tokenForm = z.object({
  name: neededText('Enter what the token is for', 60),
  scope: choice(scopes, 'Choose what the token may do'),
  days: choice(lifetimesInDays, 'Choose how long it holds').transform(Number),
})
