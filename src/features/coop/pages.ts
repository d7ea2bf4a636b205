import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import type { Page } from '../../web/views.ts'
import type { HouseholdCount } from './queries.ts'

/** One noun with what is most worth knowing of it; `says` is '' while there is nothing. */
export type Section = { href: string; name: string; says: string }

export type CoopPage = Page & {
  sentence: string
  sections: Section[]
  households: { name: string; says: string }[]
}

/** The page that answers how the co-op works: what is set up once and changed seldom, with the essentials of each. */
export function coopPage(coop: CoopWays, sections: Section[], households: HouseholdCount[]): CoopPage {
  const format = formatFor(coop)
  return {
    title: `How ${coop.name} works`,
    place: 'coop',
    sentence: `${format.count(households.length, 'household')} in ${coop.town}, ${format.altitude(coop.altitudeM)} above the sea.`,
    sections: sections.map(({ says, ...section }) => ({ ...section, says: says === '' ? 'nothing yet' : says })),
    households: households.map(({ name, helpers, lots }) => ({
      name,
      says: `${helpers === 0 ? 'no helper' : format.count(helpers, 'helper')}, ${lots === 0 ? 'no lot' : format.count(lots, 'lot')} brought`,
    })),
  }
}
