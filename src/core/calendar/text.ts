/** The most octets of a line, its break left out (RFC 5545, 3.1). */
const LINE_OCTETS = 75

/**
 * A text as the value of a property (RFC 5545, 3.3.11): backslash, semicolon, comma and line breaks escaped. Control
 * characters other than the tab may not stand in a value and are left out; half a surrogate pair becomes U+FFFD.
 */
export function escapeText(text: string): string {
  return text
    .toWellFormed()
    .replace(/[\\;,]/g, (one) => `\\${one}`)
    .replace(/\r\n|\r|\n/g, '\\n')
    .replace(/[^\P{Cc}\t\u0080-\u009f]/gu, '')
}

/** A content line with its CRLF, folded so that no piece is above 75 octets and no character is cut (RFC 5545, 3.1). */
export function foldLine(line: string): string {
  let folded = ''
  let octets = 0
  for (const character of line) {
    const more = octetsOf(character)
    if (octets + more > LINE_OCTETS) {
      folded += '\r\n '
      octets = 1
    }
    folded += character
    octets += more
  }
  return `${folded}\r\n`
}

/** How many octets a character has in UTF-8. */
function octetsOf(character: string): number {
  const point = character.codePointAt(0) ?? 0
  if (point < 0x80) return 1
  if (point < 0x800) return 2
  return point < 0x10000 ? 3 : 4
}
