import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import type { Page } from '../../web/views.ts'

export type CoopPage = Page & {
  town: string
  altitude: string
  sections: { href: string; name: string; says: string }[]
}

/** The page about how the co-op works: one entry for each thing that is set up once and changed seldom. */
export function coopPage(coop: CoopWays): CoopPage {
  return {
    title: `How ${coop.name} works`,
    place: 'coop',
    town: coop.town,
    altitude: formatFor(coop).altitude(coop.altitudeM),
    sections: [
      { href: '/recipes', name: 'Recipes', says: 'what can be made, of what, and how long it takes' },
      { href: '/work-days', name: 'Work days', says: 'when the kitchen is open, and who comes' },
      { href: '/equipment', name: 'Equipment', says: 'canners, burners, ovens and what they hold' },
      { href: '/helpers', name: 'Helpers', says: 'who works, what they know, when they have time' },
      { href: '/supplies', name: 'Supplies', says: 'jars, lids, sugar: what is there and what may be bought' },
      { href: '/outlets', name: 'Outlets', says: 'where peels, cores and leftovers go' },
    ],
  }
}
