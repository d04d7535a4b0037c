using Undersand.Storage.SegY;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Storage.Surveys;

/// <summary>Memory grows by few bytes a trace, however long the recording is.</summary>
[Collection(Support.Alone.Name)]
public sealed class LongRecordingTests
{
    [Fact]
    public void The_index_of_a_long_recording_takes_less_than_32_bytes_a_trace_and_reading_takes_none()
    {
        const int pings = 10_000, receivers = 20;
        using var survey = new SmallSurvey();
        File.Delete(survey["line-2.sgy"]);
        SurveyFolderWriter.WriteRecording(survey.Path, new MemoryLine("line-1.sgy", pings, receivers, 8), SmallSurvey.Chirp, settings => settings with { Format = SegyFormat.Float32 });
        long before = GC.GetTotalMemory(forceFullCollection: true);
        using SegyFile file = SegyFile.Open(survey["line-1.sgy"]);
        LineIndex index = new LineIndexBuilder(file, []).Build();
        long taken = GC.GetTotalMemory(forceFullCollection: true) - before;
        Assert.Equal((pings, receivers), (index.PingCount, index.ReceiverCount));
        Assert.InRange(taken / (double)(pings * receivers), 0, 32);
        float[] samples = new float[8];
        long allocated = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1000; i++)
            file.Read(i, samples);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - allocated, 0, 100_000);
        GC.KeepAlive(index);
    }
}
