import { productId, type Question } from '../../../core/division/index.ts'
import { type KitchenPlace, verdictOn } from '../../../core/recipes/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formatFor } from '../../../web/format.ts'
import {
  acidText,
  headspaceText,
  minutesText,
  pressureText,
  processMethodWords,
  sourceText,
} from '../../processes/index.ts'

/**
 * What is heated how, by product: minutes, headspace and acid at the kitchen's altitude as it is now, whatever it was when
 * the question was asked; and for what no longer follows a tested process, that it is not to be canned.
 */
export function processLines(question: Question, place: KitchenPlace, coop: CoopWays): ReadonlyMap<string, string> {
  const altitude = formatFor(coop).altitude(coop.altitudeM)
  const lines = new Map<string, string>()
  for (const recipe of question.recipes) {
    for (const { pack, standing, process, local, shelfStable } of verdictOn(recipe, place).packs) {
      const id = productId(recipe.id, pack)
      if (standing === 'not-canned') continue
      if (!shelfStable)
        lines.set(id, 'It follows no tested process here any more: do not can it. Freeze it, or keep it cold.')
      else if (process !== null) {
        const acid = acidText(process.acid)
        lines.set(
          id,
          [
            `${minutesText(process.minutes)}${process.psi === null ? '' : ` at ${pressureText(process)}`} in a ${processMethodWords[process.method]} at ${altitude}`,
            ...(process.headspaceIn === null ? [] : [`headspace ${headspaceText(process.headspaceIn)}`]),
            ...(acid === '' ? [] : [`${acid} in each jar`]),
            ...(process.sterileJars ? ['jars boiled empty first'] : []),
            sourceText(process.source),
          ].join('; '),
        )
      } else if (local !== null) {
        lines.set(
          id,
          [
            `${minutesText(local.minutes)} in a ${processMethodWords[local.method]}, by this co-op’s own authority`,
            ...(local.acid === '' ? [] : [local.acid]),
            local.source,
          ].join('; '),
        )
      }
    }
  }
  return lines
}
