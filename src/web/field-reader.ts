import type { z } from 'zod'
import type { Typed } from './forms.ts'

/** Reads the fields of a form that has rows, one by one; see forms.ts for the readings themselves. */
export type FieldReader = {
  /** The field's value; `otherwise` when it could not be read, with the reason in `errors`. */
  get<T>(name: string, schema: z.ZodType<T>, otherwise: T): T
  /** True when all typed fields whose names begin so are empty. */
  isBlank(prefix: string): boolean
  /** Words by field name. */
  errors: Record<string, string>
}

export function fieldReader(typed: Typed): FieldReader {
  const errors: Record<string, string> = {}
  return {
    errors,
    get(name, schema, otherwise) {
      const read = schema.safeParse(typed[name])
      if (read.success) return read.data
      errors[name] ??= read.error.issues[0]?.message ?? 'Enter something else'
      return otherwise
    },
    isBlank: (prefix) =>
      Object.entries(typed).every(([name, value]) => !name.startsWith(prefix) || [value].flat().join('').trim() === ''),
  }
}
