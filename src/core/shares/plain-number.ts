/**
 * The number with the fewest digits between two, for a sum that is done again on paper. Takes numbers from 0 up, the second
 * not below the first; Infinity for no end. Where no number lies between (a tie), it is the first.
 */
export function plainNumberBetween(above: number, below: number): number {
  const end = Number.isFinite(below) ? below : 2 * above
  const first = Math.floor(Math.log10(end))
  for (let exponent = first; exponent > first - 17; exponent--) {
    const steps = Math.ceil(end / 10 ** exponent) - 1
    // Through its decimals, so that 1.1 is 1.1 and not 11 times a tenth.
    const candidate = Number(`${steps}e${exponent}`)
    if (candidate > above && candidate < end) return candidate
  }
  return above
}
