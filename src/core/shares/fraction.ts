/** A fraction in lowest terms, `over` above 0. Shares are compared as fractions, so that a tie is a tie. */
export type Fraction = { whole: bigint; over: bigint }

export const zero: Fraction = { whole: 0n, over: 1n }

/** A fraction of two whole numbers, in lowest terms. Throws a RangeError if `over` is not above 0. */
export function fraction(whole: bigint, over: bigint = 1n): Fraction {
  if (over <= 0n) throw new RangeError('what a fraction is divided by is above 0')
  const common = greatestCommonDivisor(whole < 0n ? -whole : whole, over)
  return { whole: whole / common, over: over / common }
}

/**
 * The decimal that a number is written as: 0.1 is a tenth, not the binary number next to it. So 0.1 and 0.2 are together
 * as much as 0.3, as everybody who typed them expects. Throws a RangeError for what is not finite.
 */
export function fractionOf(value: number): Fraction {
  const parts = /^(-?\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(String(value))
  if (parts === null) throw new RangeError(`not a finite number: ${value}`)
  const decimals = parts[2] ?? ''
  const exponent = Number(parts[3] ?? '0') - decimals.length
  const digits = BigInt(`${parts[1] ?? ''}${decimals}`)
  return exponent >= 0 ? fraction(digits * 10n ** BigInt(exponent)) : fraction(digits, 10n ** BigInt(-exponent))
}

export function plus(a: Fraction, b: Fraction): Fraction {
  return fraction(a.whole * b.over + b.whole * a.over, a.over * b.over)
}

export function times(a: Fraction, b: Fraction): Fraction {
  return fraction(a.whole * b.whole, a.over * b.over)
}

/** a / b. Throws a RangeError unless b is above 0. */
export function dividedBy(a: Fraction, b: Fraction): Fraction {
  return fraction(a.whole * b.over, a.over * b.whole)
}

export function total(values: Iterable<Fraction>): Fraction {
  let all = zero
  for (const value of values) all = plus(all, value)
  return all
}

/** For eyes: the number nearest to it, to 30 decimals. Equal fractions give equal numbers. */
export function toNumber({ whole, over }: Fraction): number {
  return Number(`${(whole * 10n ** 30n) / over}e-30`)
}

/** Whole numbers in the same proportions. */
export function inWholes(values: readonly Fraction[]): bigint[] {
  let common = 1n
  for (const { over } of values) common *= over / greatestCommonDivisor(common, over)
  return values.map(({ whole, over }) => whole * (common / over))
}

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  while (b > 0n) [a, b] = [b, a % b]
  return a
}
