namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string BounceSubject(string person) => $"El correo para {person} se devuelve";

    public override string BounceGreeting(string name) => $"Hola, {name}.";

    public override string BounceSummary(string person) => $"El correo para {person} ha sido devuelto más de una vez, así que ya no se envía nada a esa dirección.";

    public override string BounceAddress(string address) => $"La dirección: {address}";

    public override string BounceReason(string said) => said.Length > 0 ? $"Lo último que dijo el otro servidor: {said}" : "El otro servidor no dio ningún motivo.";

    public override string BounceMeaning(string person) => $"Mientras no se arregle, {person} no recibe el correo de la mañana ni ningún aviso. Lo que esperaba no se ha enviado.";

    public override string BounceToDo(string person) =>
        $"Preguntar a {person} por otra vía si la dirección es correcta y el buzón no está lleno. Después, corregir la dirección en su página o dejar que se pruebe otra vez.";

    public override string BounceToDoTheirs(string person) =>
        $"Preguntar a {person} por otra vía si la dirección es correcta y el buzón no está lleno. Si vuelve a recibir correo, dejar que se pruebe otra vez en su página. Si ahora es otra, solo {person} puede cambiarla, en su página «{SecurityTitle}»; el correo vuelve en cuanto la confirme.";

    public override string BounceOpenPerson => "Abrir la página del miembro";

    public override string BounceWhyYou(string cooperative) => $"Recibes esto porque coordinas {cooperative}.";

    public override string BounceOnce => "Se avisa una sola vez.";
}
