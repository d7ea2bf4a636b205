/**
 * A pure system of check characters after ISO/IEC 7064:2003: the sum of each character's value, times the radix to the
 * power of its place counted from the right from 0, leaves 1 when divided by the modulus.
 */
export type PureSystem = { modulus: number; radix: number }

/** Whether values, the check character's last, satisfy the system. Values are whole, from 0 and below the modulus. */
export function satisfies(values: readonly number[], system: PureSystem): boolean {
  return remainder(values, system) === 1
}

/** The value of the one check character to put behind these values: from 0, below the modulus. */
export function checkValue(values: readonly number[], system: PureSystem): number {
  const { modulus } = system
  return (modulus + 1 - remainder([...values, 0], system)) % modulus
}

function remainder(values: readonly number[], { modulus, radix }: PureSystem): number {
  return values.reduce((sum, value) => (sum * radix + value) % modulus, 0)
}
