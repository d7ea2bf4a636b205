import { expect } from 'vitest'

/** What the promise was rejected with; a failure of the test when it was not. */
export function failure(promise: Promise<unknown>): Promise<unknown> {
  return promise.then(
    (value) => expect.fail(`it was not refused, but gave ${JSON.stringify(value)}`),
    (error: unknown) => error,
  )
}
