import type { Page } from './views.ts'

/** Asks before something goes for good (views/coop/removal.hbs). */
export type RemovalPage = Page & {
  /** What goes with it, in plain sentences; empty for nothing. */
  goes: string[]
  /** Why it cannot go now; empty: it can. */
  stays: string[]
  action: string
  back: { href: string; text: string }
}

/** @param what "chest freezer in the annex" */
export function removalPage(
  what: string,
  page: { goes?: string[]; stays?: string[]; action: string; back: { href: string; text: string } },
): RemovalPage {
  const { goes = [], stays = [], action, back } = page
  return { title: `Remove ${what}`, place: 'coop', goes, stays, action, back }
}
