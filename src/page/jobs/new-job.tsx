// page: what the customer brought → a new job.
import { useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import { announceError } from "../state/announce.js";
import { jobList } from "../state/job-data.js";
import { go, sectionHash } from "../state/route.js";

/** A form that begins a job. */
export function NewJob() {
  const [isBusy, setBusy] = useState(false);
  const devices = [...new Set(jobList.value?.jobs.map(({ device }) => device) ?? [])];
  const submit = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const words = new FormData(event.currentTarget as HTMLFormElement);
    const text = (name: string): string => String(words.get(name) ?? "").trim();
    if (text("device") === "") return;
    setBusy(true);
    const complaint = text("complaint");
    const remark = text("remark");
    try {
      const { job } = await callApi("makeJob", {
        body: {
          device: text("device"),
          ...(complaint === "" ? {} : { complaint }),
          ...(remark === "" ? {} : { remark }),
        },
      });
      go(sectionHash(job, "frames"));
    } catch (error) {
      announceError(error);
      setBusy(false);
    }
  };
  return (
    <form onSubmit={submit} aria-labelledby="new-job-title">
      <h2 id="new-job-title">New job</h2>
      <label class="field">
        Device
        <input name="device" required maxLength={200} list="devices" autoComplete="off" />
      </label>
      <datalist id="devices">
        {devices.map((device) => (
          <option key={device} value={device} />
        ))}
      </datalist>
      <label class="field">
        Complaint
        <input name="complaint" maxLength={10000} placeholder="does not start" autoComplete="off" />
      </label>
      <label class="field">
        Remark
        <input name="remark" maxLength={10000} autoComplete="off" />
      </label>
      <button type="submit" class="primary" disabled={isBusy}>
        Begin the job
      </button>
    </form>
  );
}
