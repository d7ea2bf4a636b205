/**
 * The few meanings of failure. Whoever finds something wrong throws one of these; only src/web/errors.ts knows which
 * status and page it becomes. Words given here are read by people: no identifiers of tables, files or packages.
 */
export type Meaning =
  | 'not-found'
  | 'refused'
  | 'conflict'
  | 'forbidden'
  | 'unauthorized'
  | 'too-large'
  | 'address-too-long'
  | 'unavailable'
  | 'full'
  | 'bad-request'
  | 'wrong-type'

/** A failure with a meaning. `words` is one or two plain sentences: what happened, and what to do. */
export class Failure extends Error {
  readonly meaning: Meaning
  /** By field name, for a refused call; empty for everything else. */
  readonly fields: Readonly<Record<string, string>>
  /** Where to go on from here, shown as a link. */
  readonly onward: Onward | undefined

  constructor(meaning: Meaning, words: string, more: { fields?: Record<string, string>; onward?: Onward } = {}) {
    super(words)
    this.name = 'Failure'
    this.meaning = meaning
    this.fields = more.fields ?? {}
    this.onward = more.onward
  }
}

export type Onward = { href: string; text: string }

/** Not there, or not this co-op's: the answer is the same. `what` names the thing: "this lot". */
export function notFound(what = 'that page'): Failure {
  return new Failure('not-found', `There is no ${what.replace(/^(this|that|the|a|an) /, '')} here.`)
}

/** What was sent cannot be accepted; words by field. For JSON calls: a form shows itself again instead. */
export function refused(words: string, fields: Record<string, string> = {}): Failure {
  return new Failure('refused', words, { fields })
}

/** Somebody else was quicker, or what was read has changed since. */
export function conflict(words: string, onward?: Onward): Failure {
  return new Failure('conflict', words, onward === undefined ? {} : { onward })
}

/** Known who asks, and they may not. */
export function forbidden(words: string): Failure {
  return new Failure('forbidden', words)
}

/** For the moment not possible, and may be soon. */
export function unavailable(words: string): Failure {
  return new Failure('unavailable', words)
}
