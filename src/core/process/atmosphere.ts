import { metresPerFoot } from '../units/index.ts'
import { type Citation, memory, seen } from './sources.ts'

/** Kilopascals in a pound per square inch, rounded as the tables' conversions are. */
export const kPaPerPsi = 6.894757
/** Altitudes that are taken, in metres: the standard atmosphere's lowest layer, from below the Dead Sea up. */
export const altitudeRangeM = { from: -500, to: 11_000 } as const

export const atmosphereSource: Citation = seen('iso-2533', 'lowest layer', 'constants read in a copy')
export const boilingSource: Citation = memory(
  'iapws-if97',
  'equations 30 and 31, Table 34; check values of Tables 35 and 36',
)

/**
 * Mean air pressure in kPa at an altitude in metres, by the standard atmosphere (ISO 2533, US Standard Atmosphere 1976):
 * 101.325 kPa and 15 °C at the sea, 6.5 degrees less for each kilometre. The altitude counts as the model's geopotential
 * one, which is 1.5 m less at 3,000 m: under a hundredth of a degree in what follows. Weather moves the real pressure
 * by some 3 kPa, a degree of boiling point.
 * @throws RangeError below -500 m, above 11,000 m, or for no number
 */
export function pressureAt(altitudeM: number): number {
  checkAltitude(altitudeM)
  return seaLevelKPa * (1 - (lapseKPerM * altitudeM) / seaLevelK) ** exponent
}

/**
 * Temperature in degrees Celsius at which pure water boils under an absolute pressure in kPa (IAPWS-IF97, region 4).
 * @throws RangeError outside 0.611213 to 22,064 kPa, where water has no boiling point
 */
export function saturationTemperature(kPa: number): number {
  if (!(kPa >= 0.611213 && kPa <= 22_064)) throw new RangeError(`water does not boil at ${kPa} kPa`)
  const beta = (kPa / 1000) ** 0.25
  const e = beta ** 2 + n3 * beta + n6
  const f = n1 * beta ** 2 + n4 * beta + n7
  const g = n2 * beta ** 2 + n5 * beta + n8
  const d = (2 * g) / (-f - Math.sqrt(f ** 2 - 4 * e * g))
  return (n10 + d - Math.sqrt((n10 + d) ** 2 - 4 * (n9 + n10 * d))) / 2 - zeroCelsius
}

/**
 * Absolute pressure in kPa of boiling water at a temperature in degrees Celsius (IAPWS-IF97, region 4).
 * @throws RangeError outside 0 to 373.946 °C
 */
export function saturationPressure(celsius: number): number {
  const kelvin = celsius + zeroCelsius
  if (!(kelvin >= zeroCelsius && kelvin <= 647.096)) throw new RangeError(`water does not boil at ${celsius} °C`)
  const theta = kelvin + n9 / (kelvin - n10)
  const a = theta ** 2 + n1 * theta + n2
  const b = n3 * theta ** 2 + n4 * theta + n5
  const c = n6 * theta ** 2 + n7 * theta + n8
  return 1000 * ((2 * c) / (-b + Math.sqrt(b ** 2 - 4 * a * c))) ** 4
}

/** Temperature in degrees Celsius at which water boils in the open at an altitude in metres. @throws as `pressureAt` */
export function boilingPointAt(altitudeM: number): number {
  return saturationTemperature(pressureAt(altitudeM))
}

/** What a gauge shows: pounds per square inch or kilopascals above the air around it. */
export type GaugePressure = { psi: number } | { kPa: number }

/**
 * Temperature in degrees Celsius of the steam in a pressure canner from which the air has been driven out, at the
 * pressure that its gauge shows and an altitude in metres. Air left in a canner makes it cooler than this.
 * @throws RangeError for a gauge below zero, or as `pressureAt`
 */
export function steamTemperature(gauge: GaugePressure, altitudeM: number): number {
  const above = 'psi' in gauge ? gauge.psi * kPaPerPsi : gauge.kPa
  if (!(above >= 0)) throw new RangeError(`a canner's gauge does not show ${above} kPa`)
  return saturationTemperature(pressureAt(altitudeM) + above)
}

/** Feet in an altitude in metres. @throws as `pressureAt` */
export function feetAt(altitudeM: number): number {
  checkAltitude(altitudeM)
  return altitudeM / metresPerFoot
}

export function toFahrenheit(celsius: number): number {
  return (celsius * 9) / 5 + 32
}

export function toCelsius(fahrenheit: number): number {
  return ((fahrenheit - 32) * 5) / 9
}

function checkAltitude(altitudeM: number): void {
  if (!(altitudeM >= altitudeRangeM.from && altitudeM <= altitudeRangeM.to)) {
    throw new RangeError(`the standard atmosphere is not used at ${altitudeM} m`)
  }
}

const zeroCelsius = 273.15

const seaLevelKPa = 101.325
const seaLevelK = 288.15
const lapseKPerM = 0.0065
/** Gravity times the molar mass of air, over the gas constant of the model times the lapse rate: 5.2559. */
const exponent = (9.80665 * 0.0289644) / (8.31432 * lapseKPerM)

// Coefficients of the saturation line in their published order; pressures in MPa, temperatures in kelvin.
const n1 = 0.11670521452767e4
const n2 = -0.72421316703206e6
const n3 = -0.17073846940092e2
const n4 = 0.1202082470247e5
const n5 = -0.32325550322333e7
const n6 = 0.1491510861353e2
const n7 = -0.48232657361591e4
const n8 = 0.40511340542057e6
const n9 = -0.23855557567849
const n10 = 0.65017534844798e3
