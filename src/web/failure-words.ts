import type { Onward } from '../errors.ts'

/** What a failed request is answered with, as a page or as JSON. */
export type Answer = {
  status: number
  /** A short name for programs: `not-found` */
  code: string
  title: string
  message: string
  fields: Record<string, string>
  onward: Onward | undefined
}

/** Every status that has words of its own. */
export function knownStatuses(): number[] {
  return Object.keys(known).map(Number)
}

/** There are words for this very status. */
export function isKnown(status: number): boolean {
  return status in known
}

/** The answer for a status alone; statuses without words of their own read as 400 or 500. */
export function byStatus(status: number): Answer {
  const words = known[status] ?? (status < 500 ? known[400] : known[500])
  if (words === undefined) throw new Error('no words for any failure')
  return { status, ...words, fields: {}, onward: undefined }
}

type Words = Pick<Answer, 'code' | 'title' | 'message'>

const known: Record<number, Words> = {
  400: {
    code: 'bad-request',
    title: 'That could not be read',
    message: 'The request is not one this page understands. Go back and try again.',
  },
  401: { code: 'unauthorized', title: 'Please sign in', message: 'This page is for members only.' },
  403: { code: 'forbidden', title: 'Not allowed', message: 'This is not open to you.' },
  404: {
    code: 'not-found',
    title: 'Page not found',
    message:
      'There is nothing at this address. If you typed it, check it; if you followed a link, what it led to is gone.',
  },
  405: { code: 'wrong-method', title: 'Not possible here', message: 'This address cannot be called in that way.' },
  408: {
    code: 'too-slow',
    title: 'That took too long',
    message: 'The request did not arrive in time. Check the connection and try again.',
  },
  409: {
    code: 'conflict',
    title: 'Something changed meanwhile',
    message: 'What you changed does not fit what is there now. Go back, look at it again, and try again.',
  },
  413: {
    code: 'too-large',
    title: 'Too much at once',
    message: 'What was sent is larger than 256 KB. Send it in smaller parts.',
  },
  414: { code: 'address-too-long', title: 'The address is too long', message: 'Shorten the address and try again.' },
  415: {
    code: 'wrong-type',
    title: 'Unknown kind of content',
    message: 'This address takes forms, or JSON below /api.',
  },
  422: { code: 'refused', title: 'That cannot be used', message: 'Some of what was sent cannot be used.' },
  429: {
    code: 'too-many',
    title: 'Too many requests',
    message: 'Your device asked too often. Wait a minute and try again.',
  },
  431: {
    code: 'headers-too-large',
    title: 'The request is too large',
    message: 'Your browser sent more than can be taken. Clear the cookies of this address and try again.',
  },
  500: {
    code: 'fault',
    title: 'Something went wrong here',
    message: 'The fault is ours. Try again; if it stays, tell the person who hosts the kitchen the number below.',
  },
  503: {
    code: 'unavailable',
    title: 'Not available just now',
    message: 'The kitchen cannot answer for the moment. Try again in a few seconds.',
  },
  // RFC 4918, 11.5: Insufficient Storage
  507: {
    code: 'no-room',
    title: 'There is no room left',
    message:
      'The disk of the machine that this kitchen runs on is full, so nothing can be saved. What is there can still be read. Tell the person who hosts the kitchen, and try again when there is room.',
  },
}
