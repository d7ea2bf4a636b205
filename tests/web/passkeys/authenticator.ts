import { createHash, generateKeyPairSync, randomBytes, sign } from 'node:crypto'

// An authenticator in software, written after the WebAuthn recommendation (level 2: 6.1 authenticator data, 6.5
// attestation, 7.2 assertion) and RFC 9053 for the key; it shares nothing with the library that verifies.

const sha256 = (data: string | Buffer) => createHash('sha256').update(data).digest()
const USER_PRESENT = 0x01
const USER_VERIFIED = 0x04
const ATTESTED = 0x40

export type Device = ReturnType<typeof newDevice>

/** One credential of one device. `counter` is what it tells next. */
export function newDevice({ counter = 1 } = {}) {
  const id = randomBytes(32)
  const { privateKey, publicKey } = generateKeyPairSync('ec', { namedCurve: 'P-256' })
  const { x = '', y = '' } = publicKey.export({ format: 'jwk' })
  // a map of five: EC2, ES256, P-256, x, y
  const cose = Buffer.concat([
    Buffer.from('a5010203262001215820', 'hex'),
    Buffer.from(x, 'base64url'),
    Buffer.from('225820', 'hex'),
    Buffer.from(y, 'base64url'),
  ])
  const device = { id: id.toString('base64url'), counter }

  function authenticatorData(rpId: string, flags: number, attested = Buffer.alloc(0)): Buffer {
    const count = Buffer.alloc(4)
    count.writeUInt32BE(device.counter)
    return Buffer.concat([sha256(rpId), Buffer.from([flags]), count, attested])
  }

  const clientData = (type: string, challenge: string, origin: string) =>
    Buffer.from(JSON.stringify({ type, challenge, origin, crossOrigin: false }))

  const common = { id: device.id, rawId: device.id, type: 'public-key', clientExtensionResults: {} }

  return {
    device,
    /** What a browser answers that had this device make the credential. */
    make({ challenge, rpId, origin }: { challenge: string; rpId: string; origin: string }): string {
      const length = Buffer.alloc(2)
      length.writeUInt16BE(id.length)
      const data = authenticatorData(
        rpId,
        USER_PRESENT | USER_VERIFIED | ATTESTED,
        Buffer.concat([Buffer.alloc(16), length, id, cose]),
      )
      // a map of three: fmt "none", attStmt {}, authData
      const attestation = Buffer.concat([
        Buffer.from('a363666d74646e6f6e656761747453746d74a0686175746844617461', 'hex'),
        Buffer.from([0x58, data.length]),
        data,
      ])
      return JSON.stringify({
        ...common,
        response: {
          clientDataJSON: clientData('webauthn.create', challenge, origin).toString('base64url'),
          attestationObject: attestation.toString('base64url'),
          transports: ['internal', 'teleport'],
        },
      })
    },
    /** What a browser answers that had this device sign. */
    use(asked: { challenge: string; rpId: string; origin: string; handle: string }): string {
      const data = authenticatorData(asked.rpId, USER_PRESENT | USER_VERIFIED)
      const client = clientData('webauthn.get', asked.challenge, asked.origin)
      return JSON.stringify({
        ...common,
        response: {
          clientDataJSON: client.toString('base64url'),
          authenticatorData: data.toString('base64url'),
          signature: sign('sha256', Buffer.concat([data, sha256(client)]), privateKey).toString('base64url'),
          userHandle: Buffer.from(asked.handle).toString('base64url'),
        },
      })
    },
  }
}
