/**
 * The reader of QR codes for browsers that have none: by far the largest part of the app, fetched when it is needed.
 */
import { prepareZXingModule, readBarcodes } from "zxing-wasm/reader";
import wasm from "zxing-wasm/reader/zxing_reader.wasm";

prepareZXingModule({ overrides: { locateFile: () => wasm } });

/** The texts of the codes in a picture. Only the full QR code: the small sorts are mistaken for it on blurred tags. */
export async function readCodes(picture: ImageData): Promise<string[]> {
  const codes = await readBarcodes(picture, { formats: ["QRCodeModel2"], maxNumberOfSymbols: 1 });
  return codes.map((code) => code.text);
}
