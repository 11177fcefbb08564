/**
 * How long this process was busy since `process.cpuUsage()` said `start`, ms: unlike the time on the wall it does not
 * grow with what else the machine does.
 */
export function ownMsSince(start: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}
