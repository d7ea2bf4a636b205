import fc from 'fast-check'

/** As much of JSON schema as our OpenAPI document uses. */
export type Schema = {
  $ref?: string
  type?: string | string[]
  const?: unknown
  enum?: unknown[]
  anyOf?: Schema[]
  oneOf?: Schema[]
  allOf?: Schema[]
  properties?: Record<string, Schema>
  required?: string[]
  additionalProperties?: boolean | Schema
  items?: Schema
  minimum?: number
  maximum?: number
  exclusiveMinimum?: number
  exclusiveMaximum?: number
  minLength?: number
  maxLength?: number
  minItems?: number
  maxItems?: number
  pattern?: string
  format?: string
}

/** Values that fit a schema, or nearly: patterns are not followed, ids and dates are drawn from `known`. */
export function valuesOf(schema: Schema, known: string[], look: (ref: string) => Schema): fc.Arbitrary<unknown> {
  if (schema.$ref) return valuesOf(look(schema.$ref), known, look)
  if ('const' in schema) return fc.constant(schema.const)
  if (schema.enum) return fc.constantFrom(...schema.enum)
  const choices = schema.anyOf ?? schema.oneOf
  if (choices) return fc.oneof(...choices.map((choice) => valuesOf(choice, known, look)))
  const type = Array.isArray(schema.type) ? schema.type[0] : schema.type
  switch (type) {
    case 'object':
      return objects(schema, known, look)
    case 'array':
      return fc.array(valuesOf(schema.items ?? {}, known, look), {
        minLength: schema.minItems ?? 0,
        maxLength: Math.min(schema.maxItems ?? 4, 4),
      })
    case 'integer':
      return fc.integer({
        min: whole(schema.minimum, -100),
        max: Math.max(whole(schema.minimum, -100), Math.min(whole(schema.maximum, 5_000), 5_000)),
      })
    case 'number':
      return fc.double({
        min: schema.minimum ?? -10,
        max: Math.max(schema.minimum ?? -10, Math.min(schema.maximum ?? 1_000, 1_000)),
        noNaN: true,
      })
    case 'boolean':
      return fc.boolean()
    case 'null':
      return fc.constant(null)
    default:
      return fc.oneof(fc.constantFrom(...known), fc.string({ maxLength: Math.min(schema.maxLength ?? 30, 30) }))
  }
}

/** What nobody should send: wrong types, huge numbers, emoji, markup, long text, deep nesting, prototype names. */
export const nonsense: fc.Arbitrary<unknown> = fc.oneof(
  fc.constantFrom<unknown>(
    -1,
    0,
    1e308,
    -1e308,
    2 ** 53,
    0.1,
    '',
    ' ',
    'NaN',
    'Infinity',
    '1e999',
    '-0',
    '🍎🍎',
    '\u0000',
    '\ud800',
    "'; drop table lot; --",
    '<script>alert(1)</script>',
    '../../etc',
    '{{constructor}}',
    'x'.repeat(20_000),
    null,
    true,
    [],
    {},
    [[[[[]]]]],
    { __proto__: { polluted: 1 } },
    { constructor: { prototype: {} } },
    '2026-02-31',
    '9999-99-99',
    '99999999 bushels',
    '½½½',
  ),
  fc.anything({
    maxDepth: 2,
    withBigInt: false,
    withDate: false,
    withMap: false,
    withSet: false,
    withTypedArray: false,
  }),
)

function objects(schema: Schema, known: string[], look: (ref: string) => Schema): fc.Arbitrary<unknown> {
  const properties = Object.entries(schema.properties ?? {}).map(
    ([name, part]) => [name, valuesOf(part, known, look)] as const,
  )
  const record = fc.record(Object.fromEntries(properties), { requiredKeys: schema.required ?? [] })
  if (properties.length > 0 || typeof schema.additionalProperties !== 'object') return record
  return fc.dictionary(fc.constantFrom(...known), valuesOf(schema.additionalProperties, known, look), { maxKeys: 3 })
}

function whole(bound: number | undefined, fallback: number): number {
  return bound === undefined ? fallback : Math.ceil(bound)
}
