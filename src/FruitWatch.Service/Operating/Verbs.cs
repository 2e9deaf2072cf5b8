using FruitWatch.Service.Channels.Email;
using FruitWatch.Store;

namespace FruitWatch.Service.Operating;

/// <summary>A command of the program that failed in a way its user can mend.</summary>
internal sealed class VerbException(string message) : Exception(message);

/// <summary>The commands of the program.</summary>
internal static class Verbs
{
    private const string Usage = """
        FruitWatch: what to do with each outdoor mushroom bed today, and when to expect pins.

          demo                                   an invented cooperative, to look at
          serve                                  the service itself
          coordinator add --cooperative NAME --name NAME --email ADDRESS [--language en|es]
                                                 lets a coordinator in; makes the cooperative where it is not there
          operator add --email ADDRESS           lets somebody in who runs the service
          account --weather FILE --case FILE     a bed's account, day by day, as CSV
          backtest --weather FILE --latitude DEG how good forecasts of pins would have been in past years
          feed presets [--show ID]               the feeds that are known; one of them, to start from
          feed check FILE                        what is wrong with a feed's description
          feed preview --preset ID | --description FILE --latitude DEG --longitude DEG --zone NAME
                                                 what would be understood of a feed, or of a saved answer (--body FILE)
          cooperative list                       the cooperatives that are kept
          cooperative export --id KEY --to FILE [--form json | csv]
                                                 everything of one, in a file
          cooperative import FILE [--name NAME]  takes an export in as a new cooperative
          cooperative delete --id KEY --confirm NAME
                                                 deletes one with everything in it
          mail check [--to ADDRESS]              how mails leave: settings, relay, DNS records to publish; sends one to try it
          mail new-key                           another key for the links in mails, where the one that is kept cannot be read
          bench engine                           how fast the bed model runs here
          bench outlook                          how long ten thousand outlooks take here
          bench planner                          how fast a season is planned here
          bench digest [--people N]              how long the morning mail of ten thousand people takes here
        """;

    /// <summary>Runs a command; its exit code is 0 for done, 1 for an error that was explained, 2 for a wrong call.</summary>
    public static async Task<int> RunAsync(string[] args)
    {
        try
        {
            switch (args)
            {
                case ["account", .. var rest]:
                    Accounts.AccountVerb.Run(VerbOptions.Parse(rest, "weather", "case"), Console.Out);
                    return 0;
                case ["backtest", .. var rest]:
                    BacktestVerb.Run(VerbOptions.Parse(rest, BacktestVerb.Known), Console.Out);
                    return 0;
                case ["demo", .. var rest]:
                    await Demo.DemoVerb.RunAsync(VerbOptions.Parse(rest, Demo.DemoOptions.Known), Console.Out);
                    return 0;
                case ["serve", .. var rest]:
                    await ServeVerb.RunAsync(rest);
                    return 0;
                case ["coordinator", "add", .. var rest]:
                    var coordinator = VerbOptions.Parse(rest, AccountVerbs.KnownOfCoordinator);
                    await AccountVerbs.RunAsync(services => AccountVerbs.AddCoordinatorAsync(services, coordinator, Console.Out));
                    return 0;
                case ["operator", "add", .. var rest]:
                    var runner = VerbOptions.Parse(rest, AccountVerbs.KnownOfOperator);
                    await AccountVerbs.RunAsync(services => AccountVerbs.AddOperatorAsync(services, runner, Console.Out));
                    return 0;
                case ["feed", "presets", .. var rest]:
                    FeedVerb.Presets(VerbOptions.Parse(rest, "show"), Console.Out);
                    return 0;
                case ["feed", "check", var file, .. var rest] when !file.StartsWith("--", StringComparison.Ordinal):
                    FeedVerb.Check(file, VerbOptions.Parse(rest, "local-station"), Console.Out);
                    return 0;
                case ["feed", "preview", .. var rest]:
                    await FeedVerb.PreviewAsync(VerbOptions.Parse(rest, FeedVerb.Known), Console.Out, Clocks.System);
                    return 0;
                case ["cooperative", "list", .. var rest]:
                    VerbOptions.Parse(rest);
                    await CooperativeVerb.ListAsync(Console.Out);
                    return 0;
                case ["cooperative", "export", .. var rest]:
                    await CooperativeVerb.ExportAsync(VerbOptions.Parse(rest, "id", "to", "form"), Console.Out);
                    return 0;
                case ["cooperative", "import", var file, .. var rest] when !file.StartsWith("--", StringComparison.Ordinal):
                    await CooperativeVerb.ImportAsync(file, VerbOptions.Parse(rest, "name"), Console.Out);
                    return 0;
                case ["cooperative", "delete", .. var rest]:
                    await CooperativeVerb.DeleteAsync(VerbOptions.Parse(rest, "id", "confirm"), Console.Out);
                    return 0;
                case ["mail", "check", .. var rest]:
                    await MailVerb.CheckAsync(VerbOptions.Parse(rest, "to"), Console.Out);
                    return 0;
                case ["mail", "new-key", .. var rest]:
                    VerbOptions.Parse(rest);
                    await AccountVerbs.RunAsync(services => MailVerb.NewKeyAsync(services.GetRequiredService<MailKey>(), Console.Out));
                    return 0;
                case ["bench", "engine", .. var rest]:
                    VerbOptions.Parse(rest);
                    EngineBench.Run(Console.Out);
                    return 0;
                case ["bench", "outlook", .. var rest]:
                    VerbOptions.Parse(rest);
                    OutlookBench.Run(Console.Out);
                    return 0;
                case ["bench", "planner", .. var rest]:
                    VerbOptions.Parse(rest);
                    PlannerBench.Run(Console.Out);
                    return 0;
                case ["bench", "digest", .. var rest]:
                    await DigestBench.RunAsync(VerbOptions.Parse(rest, "people"), Console.Out);
                    return 0;
                default:
                    await Console.Error.WriteLineAsync(Usage);
                    return args is ["help"] or ["--help"] or ["-h"] ? 0 : 2;
            }
        }
        catch (Exception error) when (error is VerbException or StoreException or MailException)
        {
            await Console.Error.WriteLineAsync(error.Message);
            return 1;
        }
    }
}
