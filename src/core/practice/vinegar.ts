import { type Citation, memory, practice, seen } from '../process/sources.ts'
import { mustBePositive, mustBeShare } from './measures.ts'

// C6H12O6 -> 2 C2H5OH + 2 CO2, then C2H5OH + O2 -> CH3COOH + H2O. Molar masses in g/mol.
const hexose = 180.156
const sucrose = 342.297
const ethanol = 46.069
const carbonDioxide = 44.01
const aceticAcid = 60.052

export const vinegarChemistrySource: Citation = practice('arithmetic from standard atomic masses')

export type FromSugar = { ethanolGrams: number; carbonDioxideGrams: number; aceticAcidGrams: number }

/**
 * What grams of simple sugar (glucose, fructose) become if all of it turns to alcohol and all of that to acetic acid.
 * @throws RangeError unless there is sugar
 */
export function fromSugar(grams: number): FromSugar {
  mustBePositive(grams, 'sugar')
  const mol = grams / hexose
  return {
    ethanolGrams: 2 * mol * ethanol,
    carbonDioxideGrams: 2 * mol * carbonDioxide,
    aceticAcidGrams: 2 * mol * aceticAcid,
  }
}

/** Grams of simple sugar in grams of table sugar: it takes up water as it splits. */
export function simpleSugarIn(tableSugarGrams: number): number {
  return (tableSugarGrams * 2 * hexose) / sucrose
}

/** Part of the sugar that ends as acid in a kitchen: the rest feeds yeast, stays behind or evaporates. */
export const usualEfficiency = 0.8
export const usualEfficiencySource: Citation = practice('seven to nine tenths in the open; a guess, not a promise')

/** Grams of simple sugar a litre that `acidity` g of acetic acid in 100 ml ask for. @throws RangeError for no acidity or an efficiency outside 0 to 1 */
export function sugarForAcidity(acidity: number, efficiency = 1): number {
  mustBePositive(acidity, 'acidity')
  mustBePositive(efficiency, 'efficiency')
  mustBeShare(efficiency, 'efficiency')
  return (acidity * 10 * hexose) / (2 * aceticAcid * efficiency)
}

/** Grams of dissolved sugar in a litre of juice at 20 °C, from degrees Brix (grams in 100 g). @throws RangeError outside 0 to 80 */
export function sugarPerLitre(brix: number): number {
  if (!(brix >= 0 && brix <= 80)) throw new RangeError(`a juice has no ${brix} degrees Brix`)
  // Density of sugar solutions; a common fit to the Brix tables, to a thousandth (memory).
  const density = 1 + brix / (258.6 - (brix / 258.2) * 227.1)
  return brix * 10 * density
}

/** Degrees Brix of a juice with so many grams of sugar a litre. @throws RangeError for less than nothing or more than a syrup holds */
export function brixOf(gramsPerLitre: number): number {
  if (!(gramsPerLitre >= 0 && gramsPerLitre <= sugarPerLitre(80)))
    throw new RangeError(`no juice has ${gramsPerLitre} g of sugar a litre`)
  let [low, high] = [0, 80]
  for (let step = 0; step < 50; step++) {
    const middle = (low + high) / 2
    if (sugarPerLitre(middle) < gramsPerLitre) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** The least acidity that may be called vinegar, grams of acetic acid in 100 ml. */
export const legalMinimum: { acidity: number; source: Citation } = {
  acidity: 4,
  source: memory('fda-vinegar', 'Sec. 525.825', 'at least 4 g in 100 ml'),
}
/** The acidity that pickling and canning recipes count on. */
export const picklingAcidity: { acidity: number; source: Citation } = {
  acidity: 5,
  source: seen('usda-2015', 'Guide 1 p. 1-28', '5 %, 50 grain; never of unknown acidity'),
}

/**
 * Acidity to be expected, in grams of acetic acid in 100 ml, from a juice's degrees Brix and the table sugar added a
 * litre. Only an expectation: what it reached is known when it has been measured.
 * @throws RangeError for an efficiency outside 0 to 1 or no juice
 */
export function expectedAcidity(of: { brix: number; tableSugarGramsPerLitre?: number; efficiency?: number }): {
  acidity: number
  reachesLegalMinimum: boolean
} {
  const { brix, tableSugarGramsPerLitre = 0, efficiency = usualEfficiency } = of
  mustBeShare(efficiency, 'efficiency')
  if (!(tableSugarGramsPerLitre >= 0)) throw new RangeError('added sugar cannot be less than nothing')
  const sugar = sugarPerLitre(brix) + simpleSugarIn(tableSugarGramsPerLitre)
  const acidity = (sugar * efficiency * 2 * aceticAcid) / hexose / 10
  return { acidity, reachesLegalMinimum: acidity >= legalMinimum.acidity }
}

/**
 * Acidity in grams of acetic acid in 100 ml from a titration: millilitres of sodium hydroxide of a molarity that
 * millilitres of vinegar took up.
 * @throws RangeError unless all are more than 0
 */
export function titratedAcidity(of: { mlLye: number; molarity: number; mlVinegar: number }): number {
  mustBePositive(of.mlLye, 'sodium hydroxide')
  mustBePositive(of.molarity, 'molarity')
  mustBePositive(of.mlVinegar, 'vinegar')
  return (of.mlLye * of.molarity * aceticAcid) / 10 / of.mlVinegar
}

/** Litres of vinegar and of water that make so many litres of a weaker one. @throws RangeError where it would have to grow stronger */
export function dilute(of: { from: number; to: number; litres: number }): {
  vinegarLitres: number
  waterLitres: number
} {
  mustBePositive(of.to, 'the acidity wanted')
  mustBePositive(of.litres, 'litres')
  if (!(of.from >= of.to && of.from <= 100)) throw new RangeError(`water does not make ${of.from} % into ${of.to} %`)
  const vinegarLitres = (of.litres * of.to) / of.from
  return { vinegarLitres, waterLitres: of.litres - vinegarLitres }
}

export type VinegarUse = {
  /** What a recipe may list it as. */
  ingredient: 'vinegar-5' | 'vinegar-unmeasured'
  mayPickle: boolean
  says: string
  source: Citation
}

/**
 * What home-made vinegar may be used for, by its acidity as titrated in grams in 100 ml; null: not measured. Below 5 %,
 * or unmeasured, it is not for canning or pickling however sour it tastes. The guide itself asks for bought vinegar in
 * any case, and that is said along with a measurement.
 * @throws RangeError for a measurement that is no acidity
 */
export function vinegarUse(measuredAcidity: number | null): VinegarUse {
  const source = picklingAcidity.source
  if (measuredAcidity === null) {
    const says = 'Not for canning or pickling: its acidity has not been measured. For the table and the pan only.'
    return { ingredient: 'vinegar-unmeasured', mayPickle: false, says, source }
  }
  if (!(measuredAcidity >= 0 && measuredAcidity <= 30)) throw new RangeError(`no vinegar has ${measuredAcidity} %`)
  const measured = `${Math.floor(measuredAcidity * 10 + 1e-9) / 10} %`
  if (measuredAcidity < picklingAcidity.acidity - 1e-9) {
    const says = `Not for canning or pickling: it was measured at ${measured}, and recipes count on 5 %.`
    return { ingredient: 'vinegar-unmeasured', mayPickle: false, says, source }
  }
  const says =
    `Measured at ${measured}. The handbook asks for bought vinegar of 5 % all the same: a titration is as good as ` +
    'the hand and the lye, so measure twice, each batch anew, and use bought vinegar where you are in doubt.'
  return { ingredient: 'vinegar-5', mayPickle: true, says, source }
}

/** How vinegar is made from juice, cider or scraps. */
export const vinegarMaking = {
  tempC: { low: 16, high: 27, source: seen('ohio-vinegar', undefined, '60 to 80 °F') },
  fillShare: {
    most: 0.75,
    source: seen('ohio-vinegar', undefined, 'stirred daily; glass, plastic, wood, enamel or stainless steel'),
  },
  weeks: { low: 3, high: 4, source: seen('ohio-vinegar', undefined, 'in copies of the sheet: about a month') },
  pasteuriseC: { low: 60, high: 71, source: seen('ohio-vinegar', undefined, '140 to 160 °F, in copies of the sheet') },
  starter: {
    cakesOfWineYeastPerFiveGallons: 1,
    source: seen('ohio-vinegar', undefined, 'in a quart of cider; not bread yeast'),
  },
} as const

/** Vinegar from peels and cores in sugared water, as it is commonly made. */
export const scrapVinegar = {
  mostSugarCupsPerGallon: 1,
  scrapsOutAfterDays: [3, 7],
  thenAtLeastDays: 28,
  source: practice('up to one cup of sugar to the gallon, peels and cores out after a few days, then a month or more'),
} as const
