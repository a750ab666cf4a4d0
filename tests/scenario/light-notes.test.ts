import { describe, expect, test } from 'vitest'
import { lightNotes } from '../../src/scenario/notes/light-notes.ts'
import { DAYS_OF_MONTH } from '../../src/units.ts'

const NORTH = [1.1, 1.9, 3.2, 4.4, 5.4, 5.9, 6.0, 5.1, 3.7, 2.2, 1.3, 0.9]

describe('E1 light of the other half of the earth', () => {
  const codes = (latitudeDegrees: number, ghiKwhM2Day: readonly number[]): string[] =>
    lightNotes({ latitudeDegrees, sky: { form: 'monthly', ghiKwhM2Day }, airC: null }).map(note => note.code)

  test('a northern table at a southern latitude gets a note, at its own none', () => {
    expect(codes(47.2, NORTH)).toEqual([])
    expect(codes(-47.2, NORTH)).toEqual(['light-peaks-in-winter'])
    expect(codes(-47.2, [...NORTH.slice(6), ...NORTH.slice(0, 6)])).toEqual([])
  })

  test('near the equator rain may set the seasons, and nothing is said', () => {
    expect(codes(-19, NORTH)).toEqual([])
  })

  test('an hourly file is looked at likewise; a typical climate follows the latitude', () => {
    const ghiWM2 = Float64Array.from(DAYS_OF_MONTH.flatMap((days, month) => new Array(24 * days).fill(NORTH[month])))
    const weather = { ghiWM2, dniWM2: null, dhiWM2: null, airC: null, clock: null }
    const at = (latitudeDegrees: number): number =>
      lightNotes({ latitudeDegrees, sky: { form: 'hourly', weather }, airC: null }).length
    expect([at(47), at(-47)]).toEqual([0, 1])
    expect(lightNotes({ latitudeDegrees: -47, sky: { form: 'climate', climate: 'dry' }, airC: null })).toEqual([])
  })

  test('the note says what to look at, and that it is a judgement', () => {
    const [note] = lightNotes({ latitudeDegrees: -47.2, sky: { form: 'monthly', ghiKwhM2Day: NORTH }, airC: null })
    expect(note?.text).toBe(
      'The light is brightest in the winter of latitude -47.2, which is south of the equator. In our judgement the table ' +
        'belongs to the other half of the earth, or the latitude has the wrong sign.',
    )
  })
})
