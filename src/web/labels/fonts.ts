import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'

/** The two faces of a label: narrow, with Latin, Greek and Cyrillic letters and their marks (DejaVu, free to embed). */
export type Face = 'regular' | 'bold'

const files: Readonly<Record<Face, string>> = {
  regular: 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf',
  bold: 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf',
}

const loaded = new Map<Face, Buffer>()

/** A face's file, read once. */
export function faceFile(face: Face): Buffer {
  let file = loaded.get(face)
  if (file === undefined) {
    file = readFileSync(createRequire(import.meta.url).resolve(files[face]))
    loaded.set(face, file)
  }
  return file
}
