/**
 * A name without blanks, hyphens and other marks: `PV 014` and `PV-014` are written alike.
 *
 * @param name - in small letters
 * @example lettersAndDigits('pv-014') // 'pv014'
 */
export function lettersAndDigits(name: string): string {
  return name.replace(/[^\p{L}\p{N}]/gu, '')
}

/**
 * The names of a register by their letters and digits, where no two of them are alike.
 *
 * @param names - number of each, by plain name
 */
export function namesAlike(names: ReadonlyMap<string, number>): ReadonlyMap<string, number> {
  const alike = new Map<string, number>()
  const twice = new Set<string>()
  for (const [name, number] of names) {
    const bare = lettersAndDigits(name)
    if (bare === '' || alike.has(bare)) twice.add(bare)
    else alike.set(bare, number)
  }
  for (const bare of twice) alike.delete(bare)
  return alike
}
