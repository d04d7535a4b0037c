using System.Diagnostics;
using Undersand.Imaging.Focusing;

namespace Undersand.Bench.Speed;

/// <summary>Voxel·traces per second.</summary>
internal static class SpeedBench
{
    public static int Run(string[] args)
    {
        int rounds = Number(args, "--rounds", 5), threads = Number(args, "--threads", Environment.ProcessorCount);
        var options = new ParallelOptions { MaxDegreeOfParallelism = threads };
        var problem = new FixedProblem();
        EchoSet echoes = problem.ToEchoSet();
        using var records = new TraceRecords(echoes, FixedProblem.Traces);
        using var kernel = new FixedKernel(problem, echoes, records, args.Contains("s") ? VectorPath.Scalar : VectorPath.Wide256);
        var image = new FixedImage();
        for (int i = 0; i < rounds; i++)
        {
            long start = Stopwatch.GetTimestamp();
            kernel.Run(image, options);
            double s = Stopwatch.GetElapsedTime(start).TotalSeconds;
            Console.WriteLine($"{s:0.000} s {image.VoxelTraces} {image.VoxelTraces / s / 1e6:0} MVT/s {image.Checksum()} {image.Checksum(48)} {image.Real[100]} {image.Imaginary[100]} {image.Squares[100]} {image.Counts[100]}");
        }
        return 0;
    }

    private static int Number(string[] args, string name, int otherwise)
    {
        int at = Array.IndexOf(args, name);
        return at >= 0 && at + 1 < args.Length ? int.Parse(args[at + 1]) : otherwise;
    }
}
