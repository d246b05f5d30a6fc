/** Where an office stands that has this device's every word, but for what a test says of it. */
export const standsAt = ({ epoch, office_seq }, more = {}) => ({
  office_id: "o",
  epoch,
  office_seq,
  chain: "c",
  known_chain: "c",
  device_seq: 0,
  safe_seq: null,
  hearing: false,
  erased: 0,
  ...more,
});
