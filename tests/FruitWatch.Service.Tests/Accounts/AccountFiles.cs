using FruitWatch.Service.Operating;
using FruitWatch.Service.Operating.Accounts;

namespace FruitWatch.Service.Tests.Accounts;

/// <summary>A folder with the two files of the <c>account</c> command, and the command run on them.</summary>
internal sealed class AccountFiles : IDisposable
{
    public const string Weather = """
        date,tmax_c,tmin_c,rain_mm
        2026-04-01,14.0,5.0,0.0
        2026-04-02,15.5,6.0,2.4
        2026-04-03,13.0,4.5,0.0
        2026-04-04,16.0,7.0,0.0
        """;

    public const string Case = """
        {
          "latitude": 47.5,
          "et0": "hs",
          "bed": {
            "species": "wine-cap",
            "material": "hardwood-chips",
            "d0": 0.15
          },
          "inoculated": "2026-04-01",
          "events": [
            { "date": "2026-04-02", "kind": "squeeze", "value": "right" }
          ]
        }
        """;

    private readonly string folder = Directory.CreateTempSubdirectory("account").FullName;

    public string WeatherPath => Path.Combine(folder, "weather.csv");

    public string CasePath => Path.Combine(folder, "case.json");

    public static string Golden(string file) => Path.Combine(AppContext.BaseDirectory, "Golden", "account-example", file);

    /// <summary>What the command prints.</summary>
    public static string RunOn(string weather, string bed)
    {
        using var output = new StringWriter();
        AccountVerb.Run(VerbOptions.Parse(["--weather", weather, "--case", bed], "weather", "case"), output);
        return output.ToString();
    }

    public string Run(string weather = Weather, string bed = Case)
    {
        File.WriteAllText(WeatherPath, weather);
        File.WriteAllText(CasePath, bed);
        return RunOn(WeatherPath, CasePath);
    }

    /// <summary>What the command says of a mistake, with the folder's name left out; it prints nothing.</summary>
    public string Refusal(string weather = Weather, string bed = Case)
    {
        File.WriteAllText(WeatherPath, weather);
        File.WriteAllText(CasePath, bed);
        return RefusalOn(WeatherPath, CasePath);
    }

    public string RefusalOn(string weatherPath, string casePath)
    {
        using var output = new StringWriter();
        var error = Assert.Throws<VerbException>(() =>
            AccountVerb.Run(VerbOptions.Parse(["--weather", weatherPath, "--case", casePath], "weather", "case"), output));
        Assert.Empty(output.ToString());
        return error.Message.Replace(folder + Path.DirectorySeparatorChar, "", StringComparison.Ordinal);
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
