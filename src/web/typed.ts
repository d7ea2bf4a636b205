/**
 * Values as people would type them, for filling in a form. Unlike format.ts nothing is rounded: reading it again gives
 * the same value.
 */

/** 12400 g: "12.4 kg"; 850 g: "850 g" */
export function typedMass(grams: number): string {
  return grams < 1000 ? `${grams} g` : `${grams / 1000} kg`
}

/** 45000 ml: "45 l"; 850 ml: "850 ml" */
export function typedVolume(ml: number): string {
  return ml < 1000 ? `${ml} ml` : `${ml / 1000} l`
}

/** 1250 minor units: "12.50" */
export function typedMoney(minor: number): string {
  return `${Math.floor(minor / 100)}.${String(minor % 100).padStart(2, '0')}`
}

/** 570 minutes from midnight: "9:30" */
export function typedTime(minute: number): string {
  return `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`
}

/** 0.125: "12.5" (percent); four digits after the point at most */
export function typedPercent(share: number): string {
  return String(Number((share * 100).toFixed(4)))
}
