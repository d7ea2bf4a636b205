import { z } from 'zod'
import { neededText, optionalText } from '../../web/forms.ts'

export const passkeyForm = z.object({ name: neededText('Enter what the passkey is called', 60) })
/** What was typed beside it to prove who it is; empty where the account has no password. */
export const proofForm = z.object({ password: optionalText(1000) })

const base64url = z.string().regex(/^[\w-]+$/)
const common = {
  id: base64url.max(1400),
  rawId: base64url.max(1400),
  type: z.literal('public-key'),
  clientExtensionResults: z.object({}),
}
const transports = ['ble', 'cable', 'hybrid', 'internal', 'nfc', 'smart-card', 'usb'] as const
/** Those that are known: what a newer browser adds to the list does no harm. */
const knownTransports = z
  .array(z.string().max(40))
  .max(20)
  .transform((told) => transports.filter((one) => told.includes(one)))

/** What a browser answers that made a passkey (WebAuthn, RegistrationResponseJSON). */
export const madeAnswer = z.object({
  ...common,
  response: z.object({
    clientDataJSON: base64url,
    attestationObject: base64url,
    transports: knownTransports.exactOptional(),
  }),
})

/** What a browser answers that used one (WebAuthn, AuthenticationResponseJSON). */
export const usedAnswer = z.object({
  ...common,
  response: z.object({
    clientDataJSON: base64url,
    authenticatorData: base64url,
    signature: base64url,
    userHandle: base64url.max(100).exactOptional(),
  }),
})

/** A form that script fills in with the browser's answer. */
export const answerBody = z.object({
  _csrf: z.string().optional(),
  _submission: z.string().optional(),
  answer: z.string().min(2).max(16_000),
  name: z.string().max(200).default(''),
  next: z.unknown().optional(),
})

/** The browser's answer as it was sent in a field; null for what is none. */
export function readAnswer<S extends z.ZodType>(schema: S, text: string): z.output<S> | null {
  let json: unknown
  try {
    json = JSON.parse(text)
  } catch {
    return null
  }
  return schema.safeParse(json).data ?? null
}
