using System.Numerics;
using Undersand.Acoustics;
using Undersand.Imaging;
using Undersand.Imaging.Conditioning;
using Undersand.Signal;
using Undersand.Simulation;
using Undersand.Tests.Simulation;
using static Undersand.Tests.Imaging.LineScenes;

namespace Undersand.Tests.Imaging.Gain;

/// <summary>Through the whole chain, simulation to image: amplitude is reflectivity, and noise is what the model says.</summary>
public sealed class AmplitudeTests
{
    [Theory]
    [InlineData(0.0, 0.5)]
    [InlineData(0.48, 0.5)]
    [InlineData(0.48, 1.1)]
    public void A_small_point_of_known_strength_is_imaged_at_that_strength_within_half_a_dB(double attenuation, double burial)
    {
        // In the middle of a voxel: columns are 5 cm apart, levels at 5, 10, … cm.
        double peak = Imaged(attenuation, new BuriedPoint("point", East + 3, North, burial, Material.Stone, 0.05), burial);
        Assert.InRange(20 * Math.Log10(peak / 0.05), -0.5, 0.5);
    }

    [Fact]
    public void A_small_rigid_spheres_amplitude_is_that_of_its_exact_form_function_within_1_dB()
    {
        const double diameter = 0.06, burial = 0.45;
        var sphere = Undersand.Acoustics.Sphere.Rigid(0.5 * diameter);
        double peak = Imaged(0, new BuriedSphere("sphere", East + 3, North, burial, Material.Stone, sphere), burial);
        Assert.InRange(20 * Math.Log10(peak / Expected(sphere, diameter)), -1, 1);
    }

    [Fact]
    public void Without_calibration_amplitudes_are_in_the_recordings_own_unit()
    {
        var (survey, line) = Simulate(Plan(6, Row(3, 0.6)) with { StatesCalibration = false, PascalPerUnit = 0.02 }, WithPoint(0.5));
        double peak = Peak(Image(survey, Scan(survey, line)), East + 3, North, 0.4, 0.6).Amplitude;
        // One unit of the source at 1 m is 1000 Pa / 0.02 Pa.
        Assert.InRange(20 * Math.Log10(peak / (0.05 * 1000 / 0.02)), -0.5, 0.5);
    }

    [Fact]
    public void What_is_not_undone_is_left_in()
    {
        var (survey, line) = Simulate(Plan(6, Row(3, 0.6)), WithPoint(0.5));
        var scan = Scan(survey, line);
        double all = Peak(Image(survey, scan), East + 3, North, 0.4, 0.6).Amplitude;
        double transmission = Peak(Image(survey, scan, new ImagingSettings { UndoTransmission = false }), East + 3, North, 0.4, 0.6).Amplitude;
        double spreading = Peak(Image(survey, scan, new ImagingSettings { UndoSpreading = false }), East + 3, North, 0.4, 0.6).Amplitude;
        // Straight down: T↓T↑ = (1 − R²), R = 0.353 (check SE-14, WA-09: −1.158 dB), and ρ₁/ρ₂ for the source of the echo in the sediment.
        double R = PlaneInterface.NormalReflection(1025, 1500, 1950, 1650);
        Assert.Equal((1 + R) * (1 + R) * 1025 / 1950, transmission / all, 0.02);
        // Between straight down, 1/(h + νz) each way, and the aperture's edge.
        Assert.InRange(all / spreading, Math.Pow(0.9 + 1.1 * 0.5, 2), 1.5 * Math.Pow(0.9 + 1.1 * 0.5, 2));
    }

    [Fact]
    public void Measured_noise_in_the_image_is_what_the_model_predicts()
    {
        // No sediment echoes: noise alone below the seabed's echo.
        var plan = Plan(5, Row(3, 0.6), noise: 0.5);
        var (survey, line) = Simulate(plan);
        var imager = Image(survey, Scan(survey, line));
        var grid = imager.Grid;
        double measured = 0, predicted = 0;
        int count = 0, cx = (int)Math.Round((East + 2.5 - grid.OriginEasting) / grid.Spacing), cy = (int)Math.Round((North - grid.OriginNorthing) / grid.Spacing);
        for (int x = cx - 20; x <= cx + 20; x += 2)
        {
            var column = Column(Tile(imager, x, cy), grid, x, cy);
            for (int z = 20; z < grid.CountZ; z++, count++)
            {
                measured += column[z].Magnitude * column[z].Magnitude;
                double sd = imager.NoiseAt(0, grid.EastingAt(x), grid.NorthingAt(cy), grid.BurialAt(z));
                predicted += sd * sd;
            }
        }
        Assert.InRange(10 * Math.Log10(measured / predicted), -1.5, 1.5);
    }

    private static Scene WithPoint(double burial, double attenuation = 0) =>
        SmallScenes.Empty(attenuation) with { Objects = [new BuriedPoint("point", East + 3, North, burial, Material.Stone, 0.05)] };

    private static double Imaged(double attenuation, SceneObject thing, double burial)
    {
        var scene = SmallScenes.Empty(attenuation) with { Objects = [thing] };
        var (survey, line) = Simulate(Plan(6, Row(3, 0.6), noise: 0.005), scene);
        survey = survey with { Image = new ImageSettings(burial + 0.15, 0.025) };
        return Peak(Image(survey, Scan(survey, line)), East + 3, North, burial - 0.05, burial + 0.12, 0.06).Amplitude;
    }

    /// <summary>The backscattered pulse's peak: the exact form function over the band, by the weight of the pulse's spectrum. Hann, 4–18 kHz.</summary>
    private static double Expected(Undersand.Acoustics.Sphere sphere, double diameter)
    {
        var scattering = new SphereScattering(sphere, 1950, 1650);
        var spectrum = new List<(double Weight, double Frequency, Complex Length)>();
        for (double f = 4050; f < 18000; f += 100)
            spectrum.Add((SpectralWeights.At(SpectralWeight.Hann, (f - 4000) / 14000 - 0.5), f, 0.5 * 0.5 * diameter * scattering.FormFunction(f)));
        // Phase is referred to the centre: the peak is where the image is strongest.
        return Enumerable.Range(-60, 121).Max(i => spectrum.Aggregate(Complex.Zero, (sum, s) => sum + s.Weight * s.Length * Complex.FromPolarCoordinates(1, 2 * Math.PI * s.Frequency * i * 2e-6)).Magnitude) / spectrum.Sum(s => s.Weight);
    }
}
