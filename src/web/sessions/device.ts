/**
 * What a browser runs on, in words that its owner recognizes: "Firefox on Android". Read from the User-Agent header, of
 * which only a few well-known words are looked for; none of it is kept as it came.
 */
export function deviceInWords(userAgent: string | undefined): string {
  const text = (userAgent ?? '').slice(0, 400)
  const browser = browsers.find(([sign]) => sign.test(text))?.[1] ?? null
  const system = systems.find(([sign]) => sign.test(text))?.[1] ?? null
  if (browser === null) return system === null ? 'an unknown browser' : `a browser on ${system}`
  return system === null ? browser : `${browser} on ${system}`
}

// The order matters: most browsers name those that they are built upon as well.
const browsers: readonly [RegExp, string][] = [
  [/\bEdg(e|A|iOS)?\//, 'Edge'],
  [/\b(OPR|Opera|OPT)\//, 'Opera'],
  [/\bSamsungBrowser\//, 'Samsung Internet'],
  [/\bVivaldi\//, 'Vivaldi'],
  [/\b(Firefox|FxiOS)\//, 'Firefox'],
  [/\b(Chrome|CriOS|Chromium|HeadlessChrome)\//, 'Chrome'],
  [/\bVersion\/[\d.]+ .*\bSafari\//, 'Safari'],
  [/\b(curl|Wget)\//i, 'a program'],
]

const systems: readonly [RegExp, string][] = [
  [/\bAndroid\b/, 'Android'],
  [/\biPhone\b/, 'an iPhone'],
  [/\biPad\b/, 'an iPad'],
  [/\bWindows\b/, 'Windows'],
  [/\bCrOS\b/, 'ChromeOS'],
  [/\bMacintosh\b|\bMac OS X\b/, 'a Mac'],
  [/\bLinux\b|\bX11\b/, 'Linux'],
]
