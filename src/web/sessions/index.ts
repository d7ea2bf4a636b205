export { isHttps, sessionCookie, sessionCookieOptions } from './cookie.ts'
export { deviceInWords } from './device.ts'
export { beginSessionHere, type Entering, giveToken, isSignedOutHere, takeToken, tokenHere } from './here.ts'
export {
  askingMember,
  beginSession,
  endSession,
  endSessionById,
  endSessionsOf,
  findSessionOf,
  findSteward,
  isOver,
  lifetimes,
  listSessionsOf,
  type NewSession,
  type SessionRow,
  sweepSessions,
} from './queries.ts'
export { hashOfSecret, type NewSecret, randomSecret } from './secrets.ts'
