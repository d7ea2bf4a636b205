import { type JarFacts, labelText, type ShelfLife } from '../../../core/labels/index.ts'
import { jarOf } from '../../../core/process/jars.ts'
import type { Keeping } from '../../../core/shelf/index.ts'
import type { UnitSystem } from '../../../core/units/index.ts'
import type { SheetLabel } from '../../../web/labels/index.ts'
import { jarCodePath } from '../../shelf/paths.ts'
import type { JarsToLabel } from './queries.ts'

/**
 * The label of each of these jars: all are alike.
 *
 * @param origin the address of the service as a phone in the kitchen reaches it, without a slash at its end
 */
export function labelOf(jars: JarsToLabel, units: UnitSystem, origin: string): SheetLabel {
  return { lines: labelText(factsOf(jars), units), qr: `${origin}${jarCodePath(jars.code)}` }
}

function factsOf({
  product,
  variety,
  madeOn,
  bestBy,
  unit,
  jar,
  code,
  household,
  allergens,
  keeping,
}: JarsToLabel): JarFacts {
  return {
    product,
    variety,
    madeOn,
    bestBy,
    jar: { name: `${unit.charAt(0).toUpperCase()}${unit.slice(1)}`, ml: jar === null ? null : jarOf(jar).ml },
    batchCode: code,
    household,
    allergens,
    cautions: [],
    shelfLife: shelfLives[keeping],
    // no published figure is kept with a batch
    useWithinDays: null,
  }
}

/** What a batch must be kept in says what its label warns of. */
const shelfLives: Readonly<Record<Keeping, ShelfLife>> = {
  shelf: 'shelf',
  refrigerator: 'refrigerated',
  freezer: 'frozen',
  dry: 'dried',
}
