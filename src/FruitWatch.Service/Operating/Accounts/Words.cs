using FruitWatch.Model.Account;

namespace FruitWatch.Service.Operating.Accounts;

/// <summary>Phases and events as the account's CSV spells them.</summary>
internal static class Words
{
    public static string Of(Phase phase) => phase == Phase.SpawnRun ? "spawn-run" : phase.ToString().ToLowerInvariant();

    public static string Of(AccountEvent happened) => happened switch
    {
        AccountEvent.None => "",
        AccountEvent.AttemptFailed => "attempt failed",
        AccountEvent.FlushLost => "flush lost",
        AccountEvent.FlushOver => "flush over",
        AccountEvent.HeatDamage => "heat damage",
        _ => happened.ToString().ToLowerInvariant(),
    };
}
