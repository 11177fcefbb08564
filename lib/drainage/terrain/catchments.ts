/**
 * Gives every cell the number of the pit that its single-flow path ends at; 0 where the path leaves the map.
 *
 * Two sweeps without branches copy each receiver's number, first along paths that run to earlier
 * cells, then along those that run to later ones; what winds between both is walked.
 *
 * @param label - on entry the pits' numbers, 0 for cells that leave the map, -1 for all others; on return complete.
 * @param offsets - from `neighbourOffsets`.
 * Cost: O(n).
 */
export function labelCatchments(
  receiver: Uint8Array,
  offsets: Int32Array,
  label: Int32Array,
): void {
  const size = receiver.length;
  for (let i = 0; i < size; i++) label[i] = label[i + offsets[receiver[i]]];
  for (let i = size - 1; i >= 0; i--) label[i] = label[i + offsets[receiver[i]]];
  for (let i = 0; i < size; i++) {
    if (label[i] >= 0) continue;
    let end = i;
    do end += offsets[receiver[end]];
    while (label[end] < 0);
    const found = label[end];
    for (let cell = i; cell !== end; cell += offsets[receiver[cell]]) label[cell] = found;
  }
}
