import { whereTheyDiffer } from '../../core/process/refusals.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { processTablePath, untestedPath } from '../processes/paths.ts'
import { capital } from './figures.ts'
import { section, sourcedTable, topicPage } from './parts.ts'

/** Where common practice and tested guidance part, and which side is taken here. */
export function differPage(coop: CoopWays) {
  const all = whereTheyDiffer()
  return topicPage({
    title: 'Where practice and tested guidance differ',
    sentence: `${formatFor(coop).count(all.length, 'matter')} in which what is often done is not what was tested.`,
    sections: [
      section({
        id: 'differ',
        heading: 'Matter by matter',
        says: ['Where two published sources differ, the stricter one counts here.'],
        tables: [
          sourcedTable(
            'What is done, what was tested, what counts here',
            ['About', 'Often done', 'Tested', 'Here'],
            all.map(({ topic, practice, tested, weDo, source }) => ({
              name: capital(topic),
              cells: [practice, tested, weDo],
              source,
            })),
          ),
        ],
      }),
    ],
    links: [
      { href: untestedPath(), text: 'What has no tested process' },
      { href: processTablePath(), text: 'Every tested process known here' },
    ],
  })
}
