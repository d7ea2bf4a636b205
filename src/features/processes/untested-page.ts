import { untestedStyles } from '../../core/process/refusals.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { differPath, handbookPath } from '../handbook/paths.ts'
import { lookUpPath, processesPath, processTablePath } from './paths.ts'
import { sourceText } from './words.ts'

/** What has no tested process, or has lost the one it had: why, and what to do instead. */
export function untestedPage(coop: CoopWays) {
  const format = formatFor(coop)
  const all = untestedStyles()
  const row = ({ what, says, instead, names, source }: (typeof all)[number]) => ({
    what: capital(what),
    href: lookUpPath({
      product: names[0] ?? what,
      jar: 'pint',
      method: 'boiling-water',
      altitude: format.altitude(coop.altitudeM),
    }),
    says,
    instead: instead.join('; '),
    source: sourceText(source),
  })
  return {
    title: 'What has no tested process',
    place: 'coop' as const,
    sentence: `${format.count(all.length, 'kind')} of food that no jar on a shelf is known to hold well.`,
    groups: [
      { heading: 'Never tested', rows: all.filter(({ reason }) => reason !== 'withdrawn').map(row) },
      { heading: 'Tested once, withdrawn since', rows: all.filter(({ reason }) => reason === 'withdrawn').map(row) },
    ].filter(({ rows }) => rows.length > 0),
    links: [
      { href: processesPath(), text: 'Look up a tested process' },
      { href: processTablePath(), text: 'Every tested process known here' },
      { href: differPath(), text: 'Where practice and tested guidance differ' },
      { href: handbookPath(), text: 'Handbook' },
    ],
  }
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
