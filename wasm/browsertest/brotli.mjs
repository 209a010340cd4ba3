// Reads names of files, one a line; writes how many bytes brotli at its best
// makes of each, as one JSON object.
import { readFileSync } from "node:fs";
import { promisify } from "node:util";
import { brotliCompress, constants } from "node:zlib";

const compress = promisify(brotliCompress);
const sizes = {};
await Promise.all(readFileSync(0, "utf8").split("\n").map(async (name) => {
  const b = readFileSync(name);
  sizes[name] = (await compress(b, { params: {
    [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
    [constants.BROTLI_PARAM_LGWIN]: constants.BROTLI_MAX_WINDOW_BITS,
    [constants.BROTLI_PARAM_SIZE_HINT]: b.length,
  } })).length;
}));
console.log(JSON.stringify(sizes));
