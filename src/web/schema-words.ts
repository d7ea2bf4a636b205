/** One thing that a schema found wrong, as the validator of the routes hands it on. */
export type FieldProblem = { keyword: string; instancePath: string; params?: Record<string, unknown> }

/** Plain words by field (dots between levels), in place of the validator's own, which are for developers. */
export function problemsByField(problems: readonly FieldProblem[]): Record<string, string> {
  const fields: Record<string, string> = {}
  for (const problem of problems) {
    const field = problem.instancePath.split('/').filter(Boolean).join('.') || 'body'
    fields[field] ??= wordsFor(problem)
  }
  return fields
}

function wordsFor({ keyword, params = {} }: FieldProblem): string {
  const of = (name: string) => String(params[name])
  const size = params['origin'] === 'string' ? ' characters' : params['origin'] === 'array' ? ' entries' : ''
  switch (keyword) {
    case 'invalid_type':
      return `Give ${expected[of('expected')] ?? 'a value of the right kind'}.`
    case 'too_small':
      return `Give ${of('minimum')}${size} or more.`
    case 'too_big':
      return `Give ${of('maximum')}${size} or less.`
    case 'invalid_value':
      return Array.isArray(params['values'])
        ? `Choose one of: ${params['values'].join(', ')}.`
        : 'Choose one of the listed values.'
    case 'unrecognized_keys':
      return Array.isArray(params['keys'])
        ? `Leave out: ${params['keys'].map(String).join(', ').slice(0, 200)}.`
        : 'Leave out what is not known.'
    case 'not_multiple_of':
      return `Give a multiple of ${of('divisor')}.`
    default:
      return 'Give a value of the form that the API description shows.'
  }
}

const expected: Record<string, string> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  record: 'an object',
}
