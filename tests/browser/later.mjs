// Clean-up in the reverse order of setting up, which node:test's own hooks
// don't keep: a browser has to go before the host it talks to.
// One that fails doesn't keep the others from running.

const stacks = new WeakMap();

export function later(t, action) {
  if (!stacks.has(t)) {
    stacks.set(t, []);
    t.after(async () => {
      const failures = [];
      for (const each of stacks.get(t).reverse()) {
        await Promise.resolve(each()).catch((error) => failures.push(error));
      }
      if (failures.length) throw failures[0];
    });
  }
  stacks.get(t).push(action);
}
