using System.Diagnostics;
using System.Globalization;
using Undersand.Imaging.Focusing;

namespace Undersand.Bench.Speed;

/// <summary>The summation kernel in voxel·traces per second, beside the plain version and the C reference, in alternating rounds.</summary>
internal static class SpeedBench
{
    private const int RunsARound = 3;

    public static int Run(string[] args)
    {
        int rounds = Number(args, "--rounds", 5), threads = Number(args, "--threads", Environment.ProcessorCount);
        var options = new ParallelOptions { MaxDegreeOfParallelism = threads };
        string root = Root();
        var report = new Report(args.Contains("--write") ? Path.Combine(root, "bench", "results", Machine.Folder, "speed.md") : null);
        report.Line($"# Speed of the summation kernel");
        report.Line("");
        report.Line($"{Machine.Name}, {threads} threads; .NET {Environment.Version}; commit {Machine.Commit(root)}; {DateTime.UtcNow:yyyy-MM-dd}.");
        report.Line($"One unit is one voxel × one trace (VT). Each round takes the least time of {RunsARound} runs of each, one after another; {rounds} rounds; median (least–greatest).");
        report.Line("");
        Fixed(report, root, rounds, options);
        Line(report, rounds, options);
        report.Save();
        return 0;
    }

    private static void Fixed(Report report, string root, int rounds, ParallelOptions options)
    {
        var problem = new FixedProblem();
        EchoSet echoes = problem.ToEchoSet();
        using var records = new TraceRecords(echoes, FixedProblem.Traces);
        using CReference? c = CReference.Compile(root, !System.Runtime.Intrinsics.X86.Avx512F.IsSupported, out string reason);
        VectorPath[] paths = [.. Enum.GetValues<VectorPath>().Where(p => p != VectorPath.Scalar && p <= VectorPaths.Best)];
        FixedKernel[] kernels = [.. paths.Select(p => new FixedKernel(problem, echoes, records, p))];
        FixedImage[] images = [.. paths.Select(_ => new FixedImage())];
        var seconds = new List<double>[paths.Length + 1];
        for (int i = 0; i < seconds.Length; i++)
            seconds[i] = [];
        for (int round = 0; round < rounds; round++)
        {
            if (c != null)
                seconds[^1].Add(c.Run(RunsARound, options.MaxDegreeOfParallelism));
            for (int i = 0; i < paths.Length; i++)
                seconds[i].Add(Least(RunsARound, () => kernels[i].Run(images[i], options)));
        }
        report.Line("## The fixed problem");
        report.Line("");
        report.Line(c == null ? $"Without the C reference: {reason}." : $"C reference: {c.Compiler}, {c.Name}.");
        report.Line("");
        report.Line("| implementation | MVT/s | spread | ÷ C, same round |");
        report.Line("| --- | --- | --- | --- |");
        if (c != null)
            report.Row(c.Name, FixedProblem.VoxelTraces, seconds[^1], null);
        for (int i = 0; i < paths.Length; i++)
            report.Row($"C#, {paths[i]}", FixedProblem.VoxelTraces, seconds[i], c == null ? null : seconds[^1]);
        using var scalar = new FixedKernel(problem, echoes, records, VectorPath.Scalar);
        var plain = new FixedImage();
        report.Row("C#, one level at a time (1 run)", FixedProblem.VoxelTraces, [Least(1, () => scalar.Run(plain, options))], null);
        report.Line("");
        for (int i = 0; i < paths.Length; i++)
            report.Checks(paths[i].ToString(), images[i], plain);
        report.Line("");
        foreach (FixedKernel kernel in kernels)
            kernel.Dispose();
    }

    private static void Line(Report report, int rounds, ParallelOptions options)
    {
        var problem = new LineProblem();
        report.Line("## A line with heights and slopes that differ for every trace, through `Focuser.Focus`");
        report.Line("");
        report.Line("| engine | MVT/s | spread | ÷ widest, same round |");
        report.Line("| --- | --- | --- | --- |");
        VectorPath[] paths = [.. Enum.GetValues<VectorPath>().Where(p => p <= VectorPaths.Best).Reverse()];
        var seconds = paths.Select(_ => new List<double>()).ToArray();
        long count = 0;
        for (int round = 0; round < rounds; round++)
            for (int i = 0; i < paths.Length; i++)
                seconds[i].Add(Least(RunsARound, () => count = Focus(problem, VoxelGrid.TileSize, FocusEngine.Vector, paths[i], options)));
        for (int i = 0; i < paths.Length; i++)
            report.Row($"vector, {paths[i]}", count, seconds[i], i == 0 ? null : seconds[0]);
        long fewer = 0;
        double plain = Least(1, () => fewer = Focus(problem, 12, FocusEngine.Plain, VectorPath.Scalar, options));
        report.Row("plain, exact rays, 12 × 12 columns (1 run)", fewer, [plain], null);
        report.Line("");
        report.Line($"{count} VT in a tile of 64 × 64 × 60, tapered aperture of 38°, three groups; packing and all set-up included.");
    }

    private static long Focus(LineProblem problem, int columns, FocusEngine engine, VectorPath path, ParallelOptions options)
    {
        FocusSettings settings = LineProblem.Settings with { Engine = engine };
        var sums = new LookSums?[settings.Groups];
        Focuser.Focus(LineProblem.Grid(columns), new TileIndex(0, 0), problem.Echoes, problem.Surface, settings, sums, options.MaxDegreeOfParallelism, path, CancellationToken.None);
        return sums.Sum(s => s?.Traces.Sum(t => (long)t) ?? 0);
    }

    private static double Least(int runs, Action run)
    {
        double least = double.PositiveInfinity;
        for (int i = 0; i < runs; i++)
        {
            long start = Stopwatch.GetTimestamp();
            run();
            least = Math.Min(least, Stopwatch.GetElapsedTime(start).TotalSeconds);
        }
        return least;
    }

    private static int Number(string[] args, string name, int otherwise)
    {
        int at = Array.IndexOf(args, name);
        return at >= 0 && at + 1 < args.Length ? int.Parse(args[at + 1], CultureInfo.InvariantCulture) : otherwise;
    }

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Undersand.slnx")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("the bench does not run inside the repository");
    }
}
