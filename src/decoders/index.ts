export { addressOf, BROADCAST_BOARD, lastAddress, lowestFree, PAIRS_PER_BOARD, readAddress } from './addresses.ts';
export { listDecoders } from './list-decoders.ts';
export { basicPacket, extendedPacket, inBits, inHex, readPacket } from './packets.ts';
export type * from './types.ts';
