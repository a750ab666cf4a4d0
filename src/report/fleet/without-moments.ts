/** Signatures of the records of an archive: entry of the list, end of the list. */
const ENTRY = 0x02014b50
const END = 0x06054b50
/** Length of the end of the list without a comment, bytes. */
const END_LENGTH = 22
/** 1980-01-01, 00:00, the first moment that the format can hold: time, then date. */
const FIRST_MOMENT = 0x0021_0000

/**
 * An archive whose entries all carry the same moment, so that the same content gives the same bytes.
 *
 * @param archive - ZIP without a comment; changed in place
 * @throws RangeError where it is no such archive
 * @source ISO/IEC 21320-1:2015, Document container file; layout of records: APPNOTE.TXT 6.3.3, sections 4.3.7, 4.3.12, 4.3.16
 */
export function withoutMoments(archive: Uint8Array): Uint8Array {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength)
  const end = archive.length - END_LENGTH
  if (end < 0 || view.getUint32(end, true) !== END) throw new RangeError('an archive without a list of its entries')
  let at = view.getUint32(end + 16, true)
  for (let entries = view.getUint16(end + 10, true); entries > 0; entries--) {
    if (view.getUint32(at, true) !== ENTRY) throw new RangeError('an archive whose list is damaged')
    view.setUint32(at + 12, FIRST_MOMENT, true)
    // the entry itself says its moment again
    view.setUint32(view.getUint32(at + 42, true) + 10, FIRST_MOMENT, true)
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true)
  }
  return archive
}
