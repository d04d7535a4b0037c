namespace Undersand.Runs.Tests.Runs;

public class ParallelismTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(7)]
    public void Every_index_is_done_once(int threads)
    {
        int[] done = new int[1000];
        new Parallelism(threads).For(done.Length, i => Interlocked.Increment(ref done[i]), TestContext.Current.CancellationToken);
        Assert.All(done, times => Assert.Equal(1, times));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(7)]
    public void The_failure_of_the_lowest_index_is_thrown_whatever_the_number_of_threads(int threads)
    {
        for (int round = 0; round < 50; round++)
        {
            var thrown = Assert.Throws<SurveyException>(() => new Parallelism(threads).For(100, i =>
            {
                if (i % 10 == 3)
                {
                    Thread.SpinWait(1000 * (20 - i / 10));
                    throw new SurveyException($"line-{i:00}.sgy", null, "it is broken", "mend it");
                }
            }, TestContext.Current.CancellationToken));
            Assert.Equal("line-03.sgy", thrown.File);
        }
    }

    [Fact]
    public void A_cancelled_loop_stops()
    {
        using var source = new CancellationTokenSource();
        int done = 0;
        Assert.Throws<OperationCanceledException>(() => new Parallelism(2).For(10_000, _ =>
        {
            if (Interlocked.Increment(ref done) == 10)
                source.Cancel();
        }, source.Token));
        Assert.InRange(done, 10, 12);
    }

    [Fact]
    public void Nothing_to_do_is_no_fault() => new Parallelism(4).For(0, _ => Assert.Fail("called"), TestContext.Current.CancellationToken);

    [Fact]
    public void Fewer_than_one_thread_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => new Parallelism(0));
}
