import type { AcidChoice, JarSize, TestedProcess } from './types.ts'

/** US tablespoons and teaspoons in millilitres. */
const mlOf = { tbsp: 14.787, tsp: 4.929 } as const

/**
 * The acid for one jar, any one of the choices. A half-pint takes half of a pint's; a jar between two sizes takes the
 * larger one's, and where no amount is printed for pints the quart's, so that nothing is ever rounded down.
 */
export function acidFor(choices: readonly AcidChoice[], jar: JarSize): TestedProcess['acid'] {
  return choices.map((choice) => {
    const unit = choice.acid === 'citric-acid' ? 'tsp' : 'tbsp'
    const amount = amountFor(choice, jar)
    return { acid: choice.acid, amount, unit, ml: amount * mlOf[unit] }
  })
}

function amountFor({ perPint, perQuart }: AcidChoice, jar: JarSize): number {
  const pint = perPint ?? perQuart
  switch (jar) {
    case 'half-pint':
      return perPint === null ? perQuart : perPint / 2
    case '12-ounce':
    case 'pint':
      return pint
    case '1.5-pint':
    case 'quart':
      return perQuart
    case 'half-gallon':
      return perQuart * 2
  }
}
