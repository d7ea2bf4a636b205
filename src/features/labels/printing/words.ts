import type { Misfit, Unprintable } from '../../../web/labels/index.ts'
import { unitsName } from './forms.ts'
import type { JarsToLabel } from './queries.ts'

/** What has no room on the sheet's labels, for the sheet's field. `jarsOf`: the jars of each label. */
export function misfitProblem(misfits: readonly Misfit[], jarsOf: readonly JarsToLabel[]): Record<string, string> {
  const names = (what: Misfit['noRoomFor']) => [
    ...new Set(misfits.filter(({ noRoomFor }) => noRoomFor === what).map(({ label }) => `“${jarsOf[label]?.product}”`)),
  ]
  const words = names('words')
  const sheet =
    words.length === 0
      ? 'These labels are too small for the code and words beside it: choose a sheet with larger ones'
      : `These labels are too small for what must be said of ${words.join(', ')}: choose a sheet with larger ones`
  return { sheet }
}

/** Which characters the typeface of labels lacks, for the line of the jars. */
export function charactersProblem(
  labels: readonly Unprintable[],
  jarsOf: readonly JarsToLabel[],
): Record<string, string> {
  return Object.fromEntries(
    labels.flatMap(({ label, characters }) => {
      const jars = jarsOf[label]
      if (jars === undefined) return []
      const words = `The label of “${jars.product}” (batch ${jars.code}) cannot be printed: its typeface has no ${characters.join(' ')}. Write the name with other letters`
      return [[unitsName(jars.id), words]]
    }),
  )
}
