/** The reference solver compiled to run inside Node: the same ngspice, another version, and no program of the system needed. */
import { Simulation } from 'eecircuit-engine';

/** A solver that is started once and answers one text after the other. */
export class SpiceInNode {
  private readonly simulation = new Simulation();

  static async start(): Promise<SpiceInNode> {
    const one = new SpiceInNode();
    await one.simulation.start();
    return one;
  }

  /** Amps of every voltage source by its name in lower case, as `v_h1`. Throws with what it said where it does not settle. */
  async amps(text: string): Promise<ReadonlyMap<string, number>> {
    this.simulation.setNetList(text);
    const { data, dataType } = await this.simulation.runSim();
    const found = new Map<string, number>();
    for (const { name, values } of data) {
      const [, source] = /^i\((.+)\)$/i.exec(name) ?? [];
      const [value] = values;
      if (source !== undefined && typeof value === 'number') found.set(source.toLowerCase(), value);
    }
    if (dataType !== 'real' || found.size === 0) throw new Error(this.simulation.getError().join('\n'));
    return found;
  }
}
