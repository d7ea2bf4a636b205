import { fold } from './tokens.ts'

/** A key from a name: "Quart jars, wide" is "quart-jars-wide". At most 40 characters; '' when nothing of it is left. */
export function slug(name: string): string {
  return fold(name)
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 40)
    .replace(/^-+|-+$/g, '')
}
