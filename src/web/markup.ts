/**
 * Markup that this program wrote itself. The tagged template escapes whatever is put in, so that text can only ever be
 * text; this is the one kind of value that a template writes out as it is (the helper `markup` in views.ts).
 */
export class Markup {
  readonly text: string

  private constructor(text: string) {
    this.text = text
  }

  /** Only for what a template has already rendered and escaped. */
  static rendered(text: string): Markup {
    return new Markup(text)
  }

  toString(): string {
    return this.text
  }
}

type Part = string | number | Markup | readonly Part[]

/** markup`<text x="${x}">${name}</text>`: text and attribute values escaped, Markup and lists of it kept. */
export function markup(strings: TemplateStringsArray, ...parts: readonly Part[]): Markup {
  return Markup.rendered(strings.reduce((text, next, i) => text + written(parts[i - 1] ?? '') + next))
}

/** Text made harmless in HTML, SVG and in quoted attributes. */
export function escaped(text: string): string {
  return text.replace(/[&<>"'`]/g, (character) => `&#${character.charCodeAt(0)};`)
}

function written(part: Part): string {
  if (typeof part === 'string') return escaped(part)
  if (typeof part === 'number') return String(Math.round(part * 1000) / 1000)
  if (part instanceof Markup) return part.text
  return part.map(written).join('')
}
