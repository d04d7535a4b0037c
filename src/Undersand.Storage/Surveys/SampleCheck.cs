using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>Looks at traces spread over a recording: silence, envelopes, a constant offset.</summary>
internal sealed class SampleCheck(SegyFile file, LineIndex index, List<Caution> cautions)
{
    private const int TracesLookedAt = 48, SamplesKept = 1 << 18;

    /// <summary>Fewer samples of the rarer sign than this are one-sided. Half of them have either sign in a bandpass signal.</summary>
    private const double RareSign = 0.05;

    /// <summary>A bandpass signal on an offset rests near the middle of its range, an envelope near its lower end. Our own rule, no source.</summary>
    private const double LeastRest = 0.3, GreatestRest = 0.7;

    /// <summary>The value where the signal rests, to be taken off each sample.</summary>
    /// <exception cref="SurveyException">All samples are zero, not finite, or an envelope.</exception>
    public float FindOffset()
    {
        int[] live = Array.FindAll(index.TraceOf, trace => trace >= 0);
        float[] kept = Keep(live);
        if (kept.Length == 0)
        {
            RefuseSilence(live);
            return 0;
        }
        Array.Sort(kept);
        int negative = kept.Count(x => x < 0);
        if (Math.Min(negative, kept.Length - negative) > RareSign * kept.Length)
            return 0;
        float least = kept[0], most = kept[^1], rest = kept[kept.Length / 2];
        double part = most > least ? (rest - (double)least) / (most - (double)least) : 0;
        if (part is < LeastRest or > GreatestRest)
            throw new SurveyException(file.Name, null, "the samples have one sign only: this is an envelope, which has lost the phase that imaging needs", "record or export the real bandpass signal, raw or correlated");
        float offset = Offset(rest, least, most);
        cautions.Add(new Caution(file.Name, $"The samples lie on a constant offset of {offset:G6}, which was taken off."));
        return offset;
    }

    /// <summary>Unsigned formats rest at half their range; otherwise the median.</summary>
    private float Offset(float rest, float least, float most)
    {
        if (!SegyFormats.IsUnsigned(file.Layout.Format))
            return rest;
        float half = (float)Math.Pow(2, 8 * file.Layout.SampleSize - 1);
        return Math.Abs(rest - half) < 0.05 * (most - least) + 1 ? half : rest;
    }

    private float[] Keep(int[] live)
    {
        var kept = new List<float>();
        float[] samples = new float[file.Layout.Samples];
        int count = Math.Min(TracesLookedAt, live.Length), step = Math.Max(1, (int)((long)count * samples.Length / SamplesKept));
        for (int i = 0; i < count; i++)
        {
            int trace = live[(long)i * live.Length / count];
            file.Read(trace, samples);
            SampleValues.RefuseNonFinite(samples, file.Name, trace);
            for (int k = 0; k < samples.Length; k += step)
                if (samples[k] != 0)
                    kept.Add(samples[k]);
        }
        return [.. kept];
    }

    private void RefuseSilence(int[] live)
    {
        float[] samples = new float[file.Layout.Samples];
        foreach (int trace in live)
        {
            file.Read(trace, samples);
            SampleValues.RefuseNonFinite(samples, file.Name, trace);
            if (samples.AsSpan().ContainsAnyExcept(0f))
                return;
        }
        throw new SurveyException(file.Name, null, "all samples are zero", "remove the file, or copy it again from where it was recorded");
    }
}
