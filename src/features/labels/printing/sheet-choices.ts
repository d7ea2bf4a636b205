import { knownSheets, noOffset, type PrinterOffset, type SheetGeometry } from '../../../core/labels/index.ts'
import type { UnitSystem } from '../../../core/units/index.ts'
import type { OwnSheet } from '../sheets/queries.ts'

/** A sheet that can be printed on. `value` stands for it in the address. */
export type SheetChoice = {
  value: string
  name: string
  group: string
  geometry: SheetGeometry
  offset: PrinterOffset
}

const ownGroup = 'Your own'

/** The co-op's own sheets, then the common ones by their paper. */
export function sheetChoices(own: readonly OwnSheet[]): SheetChoice[] {
  return [
    ...own.map(({ id, name, geometry, offset }) => ({ value: `own:${id}`, name, group: ownGroup, geometry, offset })),
    ...knownSheets.map(({ name, geometry }) => ({
      value: name,
      name,
      group: typeof geometry.paper === 'string' ? geometry.paper : 'Other paper',
      geometry,
      offset: noOffset,
    })),
  ]
}

/** What is chosen at first: the first sheet of the co-op's own, else a common one of the paper that belongs to its units. */
export function firstChoice(choices: readonly SheetChoice[], units: UnitSystem): SheetChoice {
  const paper = units === 'us' ? 'Letter' : 'A4'
  const choice = choices.find(({ group }) => group === ownGroup) ?? choices.find(({ group }) => group === paper)
  if (choice === undefined) throw new Error('no sheet is known')
  return choice
}
