import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, normalize, relative } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../..', import.meta.url))

/** What one file imports: files of ours as paths from the root ("src/core/units/index.ts"), packages by name ("node:fs", "luxon"). */
export type Imports = { file: string; files: string[]; packages: string[] }

/** Every TypeScript file below a folder (path from the root), with what it imports; generated code is left out. */
export function readImports(folder: string): Imports[] {
  return listFiles(join(root, folder)).map((path) => {
    const text = readFileSync(path, 'utf8')
    const specifiers = [...text.matchAll(importPattern)].map((match) => match[1] ?? match[2] ?? match[3] ?? '')
    return {
      file: relative(root, path),
      files: specifiers.filter((name) => name.startsWith('.')).map((name) => fileOf(path, name)),
      packages: specifiers.filter((name) => !name.startsWith('.')).map(packageOf),
    }
  })
}

/** A file's text, by its path from the root. */
export function readSource(file: string): string {
  return readFileSync(join(root, file), 'utf8')
}

/** The shortest chain of imports from a file to another that `isTarget` accepts; null if there is none. */
export function chainTo(
  from: string,
  imports: Map<string, Imports>,
  isTarget: (file: string) => boolean,
): string[] | null {
  const cameFrom = new Map<string, string | null>([[from, null]])
  const waiting = [from]
  for (let file = waiting.shift(); file !== undefined; file = waiting.shift()) {
    if (file !== from && isTarget(file)) return walkBack(file, cameFrom)
    for (const next of imports.get(file)?.files ?? []) {
      if (cameFrom.has(next)) continue
      cameFrom.set(next, file)
      waiting.push(next)
    }
  }
  return null
}

// `import x from 'y'`, `export * from 'y'` | `import 'y'` | `import('y')`, also over several lines.
const importPattern =
  /(?:^|\n)\s*(?:import|export)\s[^'"`;]*?\sfrom\s+['"]([^'"]+)['"]|(?:^|\n)\s*import\s+['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]\s*\)/g

function listFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((path) => path.endsWith('.ts') && !path.includes('/generated/') && statSync(path).isFile())
    .sort()
}

function fileOf(importer: string, specifier: string): string {
  const path = normalize(join(dirname(importer), specifier))
  if (!existsSync(path) && !path.includes('/generated/'))
    throw new Error(`${relative(root, importer)} imports ${specifier}, which is not there`)
  return relative(root, path)
}

function packageOf(specifier: string): string {
  const [first = '', second = ''] = specifier.split('/')
  return first.startsWith('@') ? `${first}/${second}` : first
}

function walkBack(file: string, cameFrom: Map<string, string | null>): string[] {
  const chain: string[] = []
  for (let at: string | null | undefined = file; at; at = cameFrom.get(at)) chain.unshift(at)
  return chain
}
